namespace PostPipeline.Notebooks.Charts;

/// <summary>Bytes by day of one pipeline on one tier.</summary>
/// <param name="Name">The pipeline.</param>
/// <param name="Points">In order of time.</param>
public sealed record OccupancyCurve(string Name, IReadOnlyList<OccupancyPoint> Points);
