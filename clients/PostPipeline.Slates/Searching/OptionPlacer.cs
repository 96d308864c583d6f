using PostPipeline.Quantities.Randomness;
using PostPipeline.Slates.Scheduling;

namespace PostPipeline.Slates.Searching;

/// <summary>Places the tasks of an option into what a plan leaves free, each as early as it can.</summary>
internal sealed class OptionPlacer(SearchIndex index, SearchState state, OptionWindows windows)
{
    // Holds that do not fit send their first task later; this often before the option is given up.
    private const int MostTries = 16;

    public Placement? Place(OptionIndex option, ModeRule rule, bool rentMore, int delay, ref RandomStream random)
    {
        long[][] limits = rentMore ? index.Most : state.Rented;
        int[] earliest = new int[option.Tasks.Length];
        for (int attempt = 0; attempt < MostTries; attempt++)
        {
            Placement placement = new(option);
            int placed = 0;
            while (placed < option.Tasks.Length && PlaceTask(placement, placed, earliest[placed] + (earliest[placed] == 0 ? delay : 0), rule, limits, ref random))
            {
                placed++;
            }

            int blocked = placed < option.Tasks.Length ? -1 : PlaceHolds(placement, limits, earliest);
            Undo(placement, placed);
            if (placed < option.Tasks.Length || blocked == -1)
            {
                return null;
            }

            if (blocked == 0)
            {
                placement.Count();
                return placement;
            }
        }

        return null;
    }

    private bool PlaceTask(Placement placement, int place, int earliest, ModeRule rule, long[][] limits, ref RandomStream random)
    {
        SearchTask task = placement.Option.Tasks[place];
        if (task.Definition.FixedStart is int started)
        {
            placement.Start[place] = started;
            placement.End[place] = task.End(started, task.Modes[0].Duration);
            return placement.End[place] <= index.Horizon;
        }

        int first = Math.Max(earliest, task.Definition.Release);
        foreach ((int before, int lag) in placement.Option.Before[place])
        {
            first = Math.Max(first, placement.End[before] + lag);
        }

        if (rule == ModeRule.AsPlanned && task.Definition.PlannedStart is int planned)
        {
            first = Math.Max(first, planned);
        }

        int chosen = -1;
        int chosenStart = 0;
        int chosenEnd = int.MaxValue;
        bool chosenInTime = false;
        int only = rule == ModeRule.Any ? random.NextBelow(task.Modes.Length) : -1;
        for (int mode = 0; mode < task.Modes.Length; mode++)
        {
            if (only >= 0 && mode != only)
            {
                continue;
            }

            // A mode that ends later than the best so far is of no use, so that the search for it ends there.
            int latest = chosen < 0 ? index.Horizon : chosenInTime ? windows.LatestEnd(task) : rule == ModeRule.Thrifty ? Math.Max(chosenEnd, windows.LatestEnd(task)) : chosenEnd;
            int start = Find(task, task.Modes[mode], first, Math.Min(latest, index.Horizon), limits);
            if (start < 0)
            {
                continue;
            }

            int end = task.End(start, task.Modes[mode].Duration);
            bool inTime = rule == ModeRule.Thrifty && end <= windows.LatestEnd(task);
            bool better = chosen < 0 || (chosenInTime ? inTime && Work(task, mode) < Work(task, chosen) : inTime || end < chosenEnd || (end == chosenEnd && Work(task, mode) < Work(task, chosen)));
            if (better)
            {
                (chosen, chosenStart, chosenEnd, chosenInTime) = (mode, start, end, inTime);
            }
        }

        if (chosen < 0)
        {
            return false;
        }

        placement.Start[place] = chosenStart;
        placement.End[place] = chosenEnd;
        placement.Mode[place] = chosen;
        state.Use(task.Modes[chosen], chosenStart, chosenEnd, 1);
        return true;
    }

    private static long Work(SearchTask task, int mode) =>
        task.Modes[mode].Uses.Count == 0 ? 0 : task.Modes[mode].Uses[^1].Amount * task.Modes[mode].Duration;

    private int Find(SearchTask task, TaskMode mode, int earliest, int latestEnd, long[][] limits)
    {
        int start = task.NextOpen(earliest, mode.Duration);
        while (true)
        {
            int end = task.End(start, mode.Duration);
            if (end > latestEnd)
            {
                return -1;
            }

            int busy = -1;
            foreach (ResourceUse use in mode.Uses)
            {
                busy = Math.Max(busy, LastBusy(use.Resource, use.Amount, start, end, limits));
            }

            if (busy < 0)
            {
                return start;
            }

            start = task.NextOpen(busy + 1, mode.Duration);
        }
    }

    private int LastBusy(int resource, long amount, int from, int until, long[][] limits)
    {
        long[] usage = state.Usage[resource];
        long[] limit = limits[resource];
        for (int slot = until - 1; slot >= from; slot--)
        {
            if (usage[slot] + amount > limit[slot])
            {
                return slot;
            }
        }

        return -1;
    }

    // 0: all fit. 1: a first task was sent later. -1: one that has started does not fit.
    private int PlaceHolds(Placement placement, long[][] limits, int[] earliest)
    {
        (int From, int Until, int Lag, int Resource, long Amount)[] holds = placement.Option.Holds;
        int answer = 0;
        int placed = 0;
        for (; placed < holds.Length && answer == 0; placed++)
        {
            (int from, int until, int lag, int resource, long amount) = holds[placed];
            int end = Math.Min(index.Horizon, placement.End[until] + lag);
            int busy = LastBusy(resource, amount, placement.Start[from], end, limits);
            state.Use(resource, amount, placement.Start[from], end);
            if (busy >= 0)
            {
                answer = placement.Option.Tasks[from].Definition.FixedStart is null && busy + 1 < index.Horizon ? 1 : -1;
                earliest[from] = busy + 1;
            }
        }

        for (int hold = 0; hold < placed; hold++)
        {
            (int from, int until, int lag, int resource, long amount) = holds[hold];
            state.Use(resource, -amount, placement.Start[from], Math.Min(index.Horizon, placement.End[until] + lag));
        }

        return answer;
    }

    private void Undo(Placement placement, int placed)
    {
        for (int i = 0; i < placed; i++)
        {
            SearchTask task = placement.Option.Tasks[i];
            if (task.Definition.FixedStart is null)
            {
                state.Use(task.Modes[placement.Mode[i]], placement.Start[i], placement.End[i], -1);
            }
        }
    }
}
