namespace PostPipeline.Notebooks.Charts;

/// <summary>One bar.</summary>
/// <param name="Category">What it stands for.</param>
/// <param name="Series">Its series; bars of one category stand side by side or on top of each other.</param>
/// <param name="Value">Its length, in the unit of the axis.</param>
/// <param name="Low">P10, where there is a range.</param>
/// <param name="High">P90, where there is a range.</param>
public sealed record BarRow(string Category, string Series, double Value, double? Low = null, double? High = null);
