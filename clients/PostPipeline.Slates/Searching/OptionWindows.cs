using PostPipeline.Slates.Scheduling;

namespace PostPipeline.Slates.Searching;

/// <summary>
/// When tasks can run if their option had everything to itself: no plan starts a task earlier than its head, and no plan
/// that ends in time ends it later than its latest end. Everything that can be rented counts as there.
/// </summary>
internal sealed class OptionWindows
{
    private readonly SearchIndex index;
    private readonly SearchState alone;
    private readonly int[] head;
    private readonly int[] earliestEnd;
    private readonly int[] latestEnd;

    public OptionWindows(SearchIndex index)
    {
        this.index = index;
        alone = new(index);
        head = new int[index.Tasks.Length];
        earliestEnd = new int[index.Tasks.Length];
        latestEnd = new int[index.Tasks.Length];
        foreach (OptionIndex option in index.Options)
        {
            Forward(option);
            LatestEnds(option, 0, (task, end) => latestEnd[task.Place] = end);
        }
    }

    public int Head(SearchTask task) => head[task.Place];

    /// <summary>The earliest end; beyond the horizon where the task cannot be done at all.</summary>
    public int EarliestEnd(SearchTask task) => earliestEnd[task.Place];

    /// <summary>The latest end with which the option is in time.</summary>
    public int LatestEnd(SearchTask task) => latestEnd[task.Place];

    /// <summary>Whether an option can be done by its deadlines if it had everything to itself; true does not promise it.</summary>
    public bool IsPossible(OptionIndex option) =>
        !option.Definition.Forbidden && option.Tasks.All(t => EarliestEnd(t) <= Math.Min(index.Horizon, t.Definition.Deadline ?? index.Horizon));

    /// <summary>Lateness by rank that an option has at least, weighted.</summary>
    public long[] Lateness(OptionIndex option)
    {
        long[] lateness = new long[3];
        foreach (SearchTask task in option.Tasks.Where(t => t.Definition.Due is not null))
        {
            lateness[task.Definition.LatenessRank] += Math.Max(0, EarliestEnd(task) - task.Definition.Due!.Value) * task.Definition.LatenessWeight;
        }

        return lateness;
    }

    /// <summary>Latest ends by task if what is due may be late by some slots.</summary>
    public void LatestEnds(OptionIndex option, int late, Action<SearchTask, int> tell)
    {
        int[] ends = new int[option.Tasks.Length];
        for (int i = ends.Length - 1; i >= 0; i--)
        {
            SearchTask task = option.Tasks[i];
            int end = Math.Min(index.Horizon, task.Definition.Deadline ?? index.Horizon);
            if (task.Definition.Due is int due)
            {
                end = Math.Min(end, due + late);
            }

            for (int after = i + 1; after < ends.Length; after++)
            {
                foreach ((int before, int lag) in option.Before[after])
                {
                    if (before == i)
                    {
                        SearchTask follower = option.Tasks[after];
                        int start = follower.Modes.Max(m => follower.LatestStart(ends[after], m.Duration));
                        end = Math.Min(end, start - lag);
                    }
                }
            }

            ends[i] = end;
            tell(task, end);
        }
    }

    private void Forward(OptionIndex option)
    {
        for (int i = 0; i < option.Tasks.Length; i++)
        {
            SearchTask task = option.Tasks[i];
            if (task.Definition.FixedStart is int started)
            {
                head[task.Place] = started;
                earliestEnd[task.Place] = task.End(started, task.Modes[0].Duration);
                continue;
            }

            int first = task.Definition.Release;
            foreach ((int before, int lag) in option.Before[i])
            {
                first = Math.Max(first, earliestEnd[option.Tasks[before].Place] + lag);
            }

            int start = index.Horizon + 1;
            int end = index.Horizon + 1;
            foreach (TaskMode mode in task.Modes)
            {
                int s = Earliest(task, mode, Math.Min(first, index.Horizon + 1));
                start = Math.Min(start, s);
                end = Math.Min(end, s > index.Horizon ? s : task.End(s, mode.Duration));
            }

            head[task.Place] = start;
            earliestEnd[task.Place] = end;
        }
    }

    // The earliest start that what is always away leaves; beyond the horizon where there is none.
    private int Earliest(SearchTask task, TaskMode mode, int first)
    {
        int start = task.NextOpen(first, mode.Duration);
        while (start <= index.Horizon)
        {
            int end = task.End(start, mode.Duration);
            if (end > index.Horizon)
            {
                break;
            }

            int busy = -1;
            foreach (ResourceUse use in mode.Uses)
            {
                for (int slot = end - 1; slot > busy && slot >= start; slot--)
                {
                    if (alone.Usage[use.Resource][slot] + use.Amount > index.Most[use.Resource][slot])
                    {
                        busy = slot;
                    }
                }
            }

            if (busy < 0)
            {
                return start;
            }

            start = task.NextOpen(busy + 1, mode.Duration);
        }

        return index.Horizon + 1;
    }
}
