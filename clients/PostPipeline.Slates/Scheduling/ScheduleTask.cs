namespace PostPipeline.Slates.Scheduling;

/// <summary>A piece of work that is not interrupted but for the closed times of its calendar.</summary>
/// <param name="Name">A name for reports.</param>
/// <param name="Modes">One or more ways to do it; exactly one is taken where the task is done at all.</param>
public sealed record ScheduleTask(string Name, IReadOnlyList<TaskMode> Modes)
{
    /// <summary>First slot in which it may start.</summary>
    public int Release { get; init; }

    /// <summary>Slot by which it should have ended; null where nobody waits for it.</summary>
    public int? Due { get; init; }

    /// <summary>Slot by which it must have ended; null where lateness is only counted.</summary>
    public int? Deadline { get; init; }

    /// <summary>Weight of one slot of lateness against <see cref="Due"/>.</summary>
    public long LatenessWeight { get; init; } = 1;

    /// <summary>The level that its lateness counts in: 0 for the first rank, 1 for the second, 2 for the third.</summary>
    public int LatenessRank { get; init; }

    /// <summary>Place of the option that the task belongs to; null where it is always done.</summary>
    public int? Option { get; init; }

    /// <summary>Place of the calendar it is worked in; null where every slot counts.</summary>
    public int? Calendar { get; init; }

    /// <summary>Slot at which it has started already and cannot be moved; null where it has not.</summary>
    public int? FixedStart { get; init; }

    /// <summary>Start in the running plan, which a change is counted against; null where there is none.</summary>
    public int? PlannedStart { get; init; }
}
