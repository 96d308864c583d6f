using PostPipeline.Slates.Scheduling;

namespace PostPipeline.Slates.Searching;

/// <summary>An option laid out for fast planning.</summary>
internal sealed class OptionIndex
{
    public OptionIndex(ScheduleOption definition, List<SearchTask> tasks, IEnumerable<ResourceHold> holds, int place, int group)
    {
        Place = place;
        Group = group;
        Definition = definition;
        Tasks = Ordered(tasks);
        Dictionary<int, int> local = Tasks.Select((t, i) => (t.Place, i)).ToDictionary(p => p.Place, p => p.i);
        Before = [.. Tasks.Select(t => t.Before.Select(b => (local[b.Task], b.Lag)).ToArray())];
        Holds = [.. holds.Where(h => h.Use.Amount > 0)
            .Select(h => (local[h.FromTask], local[h.UntilTask], h.Lag, h.Use.Resource, h.Use.Amount))];
    }

    public int Place { get; }

    public int Group { get; }

    public ScheduleOption Definition { get; }

    /// <summary>Its tasks, each after all that it waits for.</summary>
    public SearchTask[] Tasks { get; }

    /// <summary>For each task, places in <see cref="Tasks"/> of what it waits for, with the lag.</summary>
    public (int Task, int Lag)[][] Before { get; }

    /// <summary>Holds by places in <see cref="Tasks"/>.</summary>
    public (int From, int Until, int Lag, int Resource, long Amount)[] Holds { get; }

    // Of what is ready, the task with the longest way to the end comes first.
    private static SearchTask[] Ordered(List<SearchTask> tasks)
    {
        Dictionary<int, int> tail = tasks.ToDictionary(t => t.Place, t => t.Modes.Min(m => m.Duration));
        for (int round = 0; round < tasks.Count; round++)
        {
            bool changed = false;
            foreach (SearchTask task in tasks)
            {
                foreach ((int before, int lag) in task.Before)
                {
                    int longer = tail[task.Place] + lag + tasks.First(t => t.Place == before).Modes.Min(m => m.Duration);
                    changed |= longer > tail[before];
                    tail[before] = Math.Max(tail[before], longer);
                }
            }

            if (!changed)
            {
                break;
            }
        }

        List<SearchTask> order = [];
        HashSet<int> done = [];
        while (order.Count < tasks.Count)
        {
            SearchTask? next = tasks.Where(t => !done.Contains(t.Place) && t.Before.All(b => done.Contains(b.Task))).OrderByDescending(t => tail[t.Place]).FirstOrDefault();
            if (next is null)
            {
                throw new ArgumentException($"Tasks wait for each other in a circle: {string.Join(", ", tasks.Where(t => !done.Contains(t.Place)).Select(t => t.Definition.Name))}.");
            }

            order.Add(next);
            done.Add(next.Place);
        }

        return [.. order];
    }
}
