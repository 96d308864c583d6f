namespace PostPipeline.Slates.Planning;

/// <summary>A plan, or why there is none.</summary>
/// <param name="Plan">The plan; null where none was found.</param>
/// <param name="ProvenImpossible">Whether it is proven that no plan keeps every limit; false with no plan means that time ran out.</param>
/// <param name="Obstacles">Where there is no plan: the projects and limits in the way.</param>
public sealed record PlanAnswer(SlatePlan? Plan, bool ProvenImpossible, IReadOnlyList<string> Obstacles);
