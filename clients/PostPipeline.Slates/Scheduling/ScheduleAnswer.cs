namespace PostPipeline.Slates.Scheduling;

/// <summary>A plan, or why there is none.</summary>
/// <param name="Plan">The plan, or null.</param>
/// <param name="ProvenImpossible">Whether it is proven that no plan exists; false with no plan means that time ran out.</param>
public sealed record ScheduleAnswer(SchedulePlan? Plan, bool ProvenImpossible);
