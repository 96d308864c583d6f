namespace PostPipeline.Studies.Outcomes;

/// <summary>A margin that stands in a result, by name; each name once.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Value">Its value, for print.</param>
/// <param name="On">What it is put on.</param>
public sealed record Margin(string Name, string Value, string On);
