namespace PostPipeline.Notebooks.Charts;

/// <summary>What one input does to the answer when it moves alone from its low to its high value.</summary>
/// <param name="Input">The input.</param>
/// <param name="LowInput">Its low value as text, with the unit.</param>
/// <param name="HighInput">Its high value as text, with the unit.</param>
/// <param name="AtLow">The answer at the low value.</param>
/// <param name="AtHigh">The answer at the high value.</param>
public sealed record TornadoRow(string Input, string LowInput, string HighInput, double AtLow, double AtHigh);
