namespace PostPipeline.Notebooks.Charts;

/// <summary>A date drawn as a line and named on the chart.</summary>
/// <param name="At">When.</param>
/// <param name="Name">What it is, for example "delivery due".</param>
public sealed record NamedDate(DateTime At, string Name);
