using PostPipeline.Slates.Scheduling;

namespace PostPipeline.Slates.Searching;

/// <summary>A task laid out for fast planning.</summary>
internal sealed class SearchTask
{
    private readonly SlotCalendar? calendar;
    private readonly int horizon;

    public SearchTask(ScheduleProblem problem, ScheduleTask task, int place, IEnumerable<Precedence> before)
    {
        Place = place;
        horizon = problem.Horizon;
        calendar = task.Calendar is int c ? problem.Calendars[c] : null;
        Definition = task;
        Option = task.Option ?? -1;
        Before = [.. before.Select(p => (p.Before, p.Lag))];
        Modes = [.. task.Modes.Select(m => m with { Uses = [.. m.Uses.Where(u => u.Amount > 0)] })];
    }

    public int Place { get; }

    public ScheduleTask Definition { get; }

    public int Option { get; }

    public (int Task, int Lag)[] Before { get; }

    public TaskMode[] Modes { get; }

    /// <summary>The slot after the last, or a slot beyond the horizon where the work does not end within it.</summary>
    public int End(int start, int duration) =>
        calendar is null ? start + duration : start > horizon ? horizon + 1 : calendar.End(start, duration) ?? horizon + 1;

    /// <summary>The first slot from a slot on in which work can begin.</summary>
    public int NextOpen(int slot, int duration) =>
        calendar is null || duration == 0 || slot >= horizon ? slot : calendar.NextOpen(slot);

    /// <summary>The latest start that ends by a slot; below 0 where there is none.</summary>
    public int LatestStart(int end, int duration) =>
        end < 0 ? -1 : calendar is null ? end - duration : calendar.LatestStart(Math.Min(end, horizon), duration) ?? -1;

    /// <summary>Open slots from a slot until another.</summary>
    public int Open(int from, int until) =>
        until <= from ? 0 : calendar is null ? until - from : calendar.OpenBefore(until) - calendar.OpenBefore(from);

    public bool IsOpen(int slot) => calendar is null || calendar.IsOpen(slot);
}
