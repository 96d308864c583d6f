namespace PostPipeline.Notebooks.Charts;

/// <summary>A limit drawn as a line and named on the chart.</summary>
/// <param name="Value">Where it lies, in the unit of the axis it stands on.</param>
/// <param name="Name">What it is, for example "capacity".</param>
public sealed record NamedLine(double Value, string Name);
