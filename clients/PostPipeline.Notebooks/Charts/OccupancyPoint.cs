namespace PostPipeline.Notebooks.Charts;

/// <summary>How much one tier holds at one moment.</summary>
/// <param name="At">When.</param>
/// <param name="Terabytes">The middle value (P50), TB.</param>
/// <param name="Low">P10, TB, where there is a range.</param>
/// <param name="High">P90, TB, where there is a range.</param>
public sealed record OccupancyPoint(DateTime At, double Terabytes, double? Low = null, double? High = null);
