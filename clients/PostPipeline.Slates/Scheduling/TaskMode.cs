namespace PostPipeline.Slates.Scheduling;

/// <summary>One way to do a task: with four nodes in ten half-days, or with eight in five.</summary>
/// <param name="Duration">Slots of working time, 0 or more.</param>
/// <param name="Uses">What is held from start to end.</param>
/// <param name="Cost">Money, in whole currency units, 0 or more.</param>
public sealed record TaskMode(int Duration, IReadOnlyList<ResourceUse> Uses, long Cost = 0);
