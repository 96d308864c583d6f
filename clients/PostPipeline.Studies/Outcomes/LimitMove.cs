namespace PostPipeline.Studies.Outcomes;

/// <summary>A limit, and what relaxing it moves.</summary>
/// <param name="Name">The limit; empty where nothing moves the answer.</param>
/// <param name="Says">What a small step of it moves.</param>
/// <param name="Moves">Seconds of delivery P90 that the step saves, or the gain of the failed gate's margin.</param>
public sealed record LimitMove(string Name, string Says, double Moves);
