namespace PostPipeline.Slates.Planning;

/// <summary>What a search has reached.</summary>
/// <param name="Level">The level in work.</param>
/// <param name="Value">The best value so far.</param>
/// <param name="Bound">What is proven so far.</param>
public sealed record PlanProgress(PlanLevel Level, long Value, long Bound);
