namespace PostPipeline.Notebooks.Charts;

/// <summary>One storage tier with the curves of every pipeline on it.</summary>
/// <param name="Name">For example "online".</param>
/// <param name="Curves">One for each pipeline, in the same order on every tier.</param>
/// <param name="CapacityTerabytes">What the tier can hold, TB; null where it is not limited.</param>
public sealed record OccupancyTier(string Name, IReadOnlyList<OccupancyCurve> Curves, double? CapacityTerabytes = null);
