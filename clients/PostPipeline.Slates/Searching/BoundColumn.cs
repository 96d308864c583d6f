using PostPipeline.Slates.Scheduling;

namespace PostPipeline.Slates.Searching;

/// <summary>
/// An option that is so late at most: the windows that its tasks then have, and the least of each resource that it holds
/// between two slots wherever it lies in them.
/// </summary>
internal sealed class BoundColumn
{
    // Lateness by steps: within a step the windows are those of its end, the cost is that of its start.
    private static readonly int[] LateSteps = [0, 1, 3, 7, 15, 31, 63, 127, 100_000];

    private readonly Dictionary<int, int[]> users;
    private readonly int[] head;
    private readonly int[] earliestEnd;
    private readonly int[] latestEnd;
    private readonly int[] lengths;

    private BoundColumn(OptionIndex option, int[] lengths)
    {
        (Option, this.lengths) = (option, lengths);
        head = new int[option.Tasks.Length];
        earliestEnd = new int[option.Tasks.Length];
        latestEnd = new int[option.Tasks.Length];
        users = option.Tasks
            .SelectMany((t, i) => t.Modes.SelectMany(m => m.Uses).Select(u => u.Resource).Distinct().Select(r => (r, i)))
            .GroupBy(p => p.r).ToDictionary(g => g.Key, g => g.Select(p => p.i).ToArray());
    }

    public OptionIndex Option { get; }

    /// <summary>The least that it adds to each level.</summary>
    public long[] Values { get; } = new long[LevelValues.Count];

    /// <summary>An option as columns, one a step of lateness.</summary>
    public static IEnumerable<BoundColumn> Of(OptionIndex option, OptionWindows windows, int horizon)
    {
        int[] lengths = [.. option.Holds.Select(h => Length(option, h.From, h.Until, h.Lag))];
        int least = option.Tasks.Where(t => t.Definition.Due is not null).Select(t => windows.EarliestEnd(t) - t.Definition.Due!.Value).DefaultIfEmpty(0).Max();
        for (int step = 0; step + 1 < LateSteps.Length; step++)
        {
            int most = Math.Min(LateSteps[step + 1] - 1, horizon);
            if (most < least)
            {
                continue;
            }

            BoundColumn column = new(option, lengths);
            column.Fill(windows, step, most);
            yield return column;
            if (column.latestEnd.Zip(option.Tasks).All(p => p.First >= Math.Min(horizon, p.Second.Definition.Deadline ?? horizon)))
            {
                break;
            }
        }
    }

    public bool Uses(int resource) => users.ContainsKey(resource) || Array.Exists(Option.Holds, h => h.Resource == resource);

    /// <summary>The least that it holds of a resource between two slots, in units times slots.</summary>
    public long Least(int resource, int from, int until)
    {
        long sum = 0;
        foreach (int i in users.GetValueOrDefault(resource, []))
        {
            sum += LeastOfTask(i, resource, from, until);
        }

        for (int hold = 0; hold < Option.Holds.Length; hold++)
        {
            sum += Option.Holds[hold].Resource == resource ? LeastOfHold(hold, from, until) : 0;
        }

        return sum;
    }

    // From the start of one task to the end of another at least, with the lag: the longest way between them, 0 where there is none.
    private static int Length(OptionIndex option, int from, int until, int lag)
    {
        int[] start = [.. Enumerable.Repeat(int.MinValue, option.Tasks.Length)];
        int Shortest(int task) => option.Tasks[task].Modes.Min(m => m.Duration);
        start[from] = 0;
        for (int task = from + 1; task <= until; task++)
        {
            foreach ((int before, int wait) in option.Before[task])
            {
                if (start[before] != int.MinValue)
                {
                    start[task] = Math.Max(start[task], start[before] + Shortest(before) + wait);
                }
            }
        }

        return start[until] == int.MinValue ? 0 : Math.Max(0, start[until] + Shortest(until) + lag);
    }

    private void Fill(OptionWindows windows, int step, int most)
    {
        windows.LatestEnds(Option, most, (task, end) => latestEnd[Array.IndexOf(Option.Tasks, task)] = end);
        foreach (SearchTask task in Option.Tasks.Where(t => t.Definition.Due is not null))
        {
            int late = Math.Max(Math.Max(0, windows.EarliestEnd(task) - task.Definition.Due!.Value), step == 0 ? 0 : Option.Tasks.Count(t => t.Definition.Due is not null) == 1 ? LateSteps[step] : 0);
            Values[LevelValues.Lateness + task.Definition.LatenessRank] += late * task.Definition.LatenessWeight;
        }

        Values[LevelValues.Money] = Option.Definition.Cost + Option.Tasks.Sum(t => t.Modes.Min(m => m.Cost));
        Values[LevelValues.Changes] = Option.Definition.Change;
        for (int i = 0; i < Option.Tasks.Length; i++)
        {
            head[i] = windows.Head(Option.Tasks[i]);
            earliestEnd[i] = windows.EarliestEnd(Option.Tasks[i]);
            if (Option.Tasks[i].Definition.PlannedStart is int planned)
            {
                int latest = Option.Tasks[i].Modes.Max(m => Option.Tasks[i].LatestStart(latestEnd[i], m.Duration));
                Values[LevelValues.Changes] += Math.Max(0, Math.Max(head[i] - planned, planned - latest));
            }
        }
    }

    private long LeastOfTask(int place, int resource, int from, int until)
    {
        SearchTask task = Option.Tasks[place];
        long least = long.MaxValue;
        foreach (TaskMode mode in task.Modes)
        {
            long amount = 0;
            foreach (ResourceUse use in mode.Uses)
            {
                amount += use.Resource == resource ? use.Amount : 0;
            }

            int first = head[place];
            int last = task.LatestStart(latestEnd[place], mode.Duration);
            if (task.Definition.FixedStart is int started)
            {
                (first, last) = (started, started);
            }
            else if (last < first)
            {
                // This mode does not fit the window.
                continue;
            }

            long overlap = Math.Min(Overlap(task, first, mode.Duration, from, until), Overlap(task, last, mode.Duration, from, until));
            least = Math.Min(least, amount * overlap);
        }

        return least == long.MaxValue ? 0 : least;
    }

    // It ends no earlier than its last task can, and lasts as long as the tasks in it take. Pushed to the right it first only
    // shrinks at its left end, and slides from where it is shortest: the least overlap lies at one end of the slide.
    private long LeastOfHold(int hold, int from, int until)
    {
        (int start, int end, int lag, _, long amount) = Option.Holds[hold];
        SearchTask first = Option.Tasks[start];
        int latest = Math.Max(0, first.Definition.FixedStart ?? first.Modes.Max(m => first.LatestStart(latestEnd[start], m.Duration)));
        int earliest = Math.Min(latest, first.Definition.FixedStart ?? head[start]);
        int ends = earliestEnd[end] + lag;
        int slides = Math.Clamp(ends - lengths[hold], earliest, latest);
        return amount * Math.Min(At(slides), At(latest));

        int At(int slot) => Math.Max(0, Math.Min(until, Math.Max(ends, slot + lengths[hold])) - Math.Max(from, slot));
    }

    private static int Overlap(SearchTask task, int start, int duration, int from, int until) =>
        task.Open(Math.Max(from, start), Math.Min(until, task.End(start, duration)));
}
