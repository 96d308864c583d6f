namespace PostPipeline.Studies.Outcomes;

/// <summary>A fact about quality, with its unit; no score is made of such rows.</summary>
/// <param name="Name">What it is about.</param>
/// <param name="Value">The value, or "not measured".</param>
/// <param name="Unit">Its unit; empty for words.</param>
public sealed record QualityRow(string Name, string Value, string Unit);
