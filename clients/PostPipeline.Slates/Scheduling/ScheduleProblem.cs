namespace PostPipeline.Slates.Scheduling;

/// <summary>
/// Tasks, resources and choices on a clock of whole slots. Nothing here knows of pictures: the same layer plans
/// a slate and the published instances that it is checked against.
/// </summary>
public sealed record ScheduleProblem
{
    /// <summary>Slots of the horizon, 1 or more; every task ends within it.</summary>
    public required int Horizon { get; init; }

    /// <summary>What tasks share.</summary>
    public required IReadOnlyList<ScheduleResource> Resources { get; init; }

    /// <summary>The tasks.</summary>
    public required IReadOnlyList<ScheduleTask> Tasks { get; init; }

    /// <summary>What waits for what.</summary>
    public IReadOnlyList<Precedence> Precedences { get; init; } = [];

    /// <summary>All options of all choices.</summary>
    public IReadOnlyList<ScheduleOption> Options { get; init; } = [];

    /// <summary>The choices between options.</summary>
    public IReadOnlyList<ScheduleChoice> Choices { get; init; } = [];

    /// <summary>What is held across tasks.</summary>
    public IReadOnlyList<ResourceHold> Holds { get; init; } = [];

    /// <summary>What is not to be had for a while.</summary>
    public IReadOnlyList<FixedUse> FixedUses { get; init; } = [];

    /// <summary>Calendars that tasks are worked in.</summary>
    public IReadOnlyList<SlotCalendar> Calendars { get; init; } = [];
}
