namespace PostPipeline.Notebooks.Charts;

/// <summary>One point of a line.</summary>
/// <param name="X">In the unit of the x axis.</param>
/// <param name="Y">The middle value, in the unit of the y axis; NaN leaves a gap.</param>
/// <param name="Low">The lower border (P10), where there is a range.</param>
/// <param name="High">The upper border (P90), where there is a range.</param>
public sealed record BandPoint(double X, double Y, double? Low = null, double? High = null);
