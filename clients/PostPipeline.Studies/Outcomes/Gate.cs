namespace PostPipeline.Studies.Outcomes;

/// <summary>A condition that a pipeline passes, fails, or is not proven on.</summary>
/// <param name="Name">date, raster and depth, write ceiling, match key, decode, online capacity, nearline capacity, link, rest.</param>
/// <param name="State">The verdict.</param>
/// <param name="Margin">How far from the limit, as a share of it; negative beyond it; NaN where there is no number.</param>
/// <param name="Says">What was compared with what, as a sentence.</param>
/// <param name="Limit">The input that moves it, or empty.</param>
public sealed record Gate(string Name, GateState State, double Margin, string Says, string Limit = "");
