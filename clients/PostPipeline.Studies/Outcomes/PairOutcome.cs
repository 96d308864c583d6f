namespace PostPipeline.Studies.Outcomes;

/// <summary>Two pipelines on the same draws.</summary>
/// <param name="First">The first.</param>
/// <param name="Second">The second.</param>
/// <param name="Before">How often the first delivers before the second.</param>
/// <param name="Together">How often both deliver at the same second: neither before the other.</param>
/// <param name="Cheaper">How often the first costs less.</param>
public sealed record PairOutcome(string First, string Second, Probability Before, Probability Together, Probability Cheaper);
