namespace PostPipeline.Notebooks.Charts;

/// <summary>A probability in a table: read in per cent, never as none or all, and written in full where a program reads it.</summary>
/// <param name="Value">0 to 1.</param>
public readonly record struct Chance(double Value);
