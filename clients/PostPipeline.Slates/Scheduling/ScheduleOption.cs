namespace PostPipeline.Slates.Scheduling;

/// <summary>An option of a choice.</summary>
/// <param name="Name">A name for reports.</param>
/// <param name="Cost">Money, in whole currency units, 0 or more.</param>
/// <param name="Change">Units of change against the running plan when it is taken, 0 or more.</param>
/// <param name="Forbidden">Whether it may not be taken, for example to ask why it was.</param>
public sealed record ScheduleOption(string Name, long Cost = 0, long Change = 0, bool Forbidden = false);
