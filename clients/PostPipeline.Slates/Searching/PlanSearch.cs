using System.Diagnostics;
using PostPipeline.Slates.Scheduling;

namespace PostPipeline.Slates.Searching;

/// <summary>
/// Brings the levels of a problem of choices down one after another: walkers look for plans, bounds say how far they are
/// from the least.
/// </summary>
internal sealed class PlanSearch
{
    // Steps of one round of a walker, after which walkers tell each other what they have found.
    private const int RoundSteps = 100;

    // Steps that count as a second where a plan is to be repeatable.
    private const int StepsASecond = 1500;

    private readonly SearchIndex index;
    private readonly OptionWindows windows;
    private readonly PlanSearchSettings settings;
    private readonly bool[] counts = new bool[LevelValues.Count];
    private readonly Placement?[] running;
    private readonly PlanWalker[] walkers;
    private readonly EnergyBound bounds;
    private readonly CancellationToken cancellation;

    public PlanSearch(SearchIndex index, IReadOnlyList<ScheduleLevel> levels, PlanSearchSettings settings, CancellationToken cancellation)
    {
        this.index = index;
        this.settings = settings;
        this.cancellation = cancellation;
        windows = new(index);
        counts[LevelValues.Impossible] = true;
        foreach (ScheduleLevel level in levels)
        {
            counts[LevelValues.Of(level)] = true;
        }

        running = new Placement?[index.Groups.Length];

        // Two walkers whatever the threads where the plan is to be repeatable.
        walkers = [.. Enumerable.Range(0, settings.Repeatable ? 2 : settings.Workers).Select(i => new PlanWalker(index, windows, counts, running, settings.Seed, i))];
        bounds = new(index, windows);
    }

    /// <summary>The best plan so far.</summary>
    public Placement?[] Best { get; private set; } = [];

    /// <summary>Its values.</summary>
    public long[] Values { get; private set; } = [];

    /// <summary>Seconds that the last level took of its time; steps count where the plan is to be repeatable.</summary>
    public double Spent { get; private set; }

    public bool HasPlan => Values.Length > 0 && Values[LevelValues.Impossible] == 0;

    /// <summary>Choices of which no option can be done even with everything to itself.</summary>
    public IReadOnlyList<int> Hopeless() =>
        [.. Enumerable.Range(0, index.Groups.Length).Where(g => !index.Groups[g].Any(o => windows.IsPossible(index.Options[o])))];

    /// <summary>First plans by several orders.</summary>
    /// <param name="from">A plan to start from as well; null where there is none.</param>
    public void Start(SchedulePlan? from)
    {
        if (from is not null)
        {
            foreach (Placement placement in InOrder(from))
            {
                running[placement.Option.Group] = placement;
            }

            walkers[0].Load(Beside(running));
            walkers[0].Fill();
        }

        for (int order = 0; order < 8; order++)
        {
            walkers[order % walkers.Length].Build(order);
        }

        Share();
    }

    /// <summary>Works on a level until its bound is reached or its time is over.</summary>
    /// <param name="level">The level.</param>
    /// <param name="seconds">Seconds for it.</param>
    /// <param name="told">Told of value and bound. May be null.</param>
    /// <returns>The bound.</returns>
    public long Improve(ScheduleLevel level, double seconds, Action<long?, long, double>? told)
    {
        int place = LevelValues.Of(level);
        Stopwatch watch = Stopwatch.StartNew();
        long bound = 0;
        Task<long>? bounding = null;
        using CancellationTokenSource stop = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
        if (HasPlan && Values[place] > 0)
        {
            long[] limits = [.. Values];
            if (settings.Repeatable)
            {
                bound = bounds.Bound(place, limits, counts, seconds * 0.3, true, stop.Token);
            }
            else
            {
                bounding = Task.Run(() => bounds.Bound(place, limits, counts, seconds * 0.6, false, stop.Token), CancellationToken.None);
            }
        }

        long steps = 0;
        while (!cancellation.IsCancellationRequested)
        {
            if (bounding is { IsCompleted: true })
            {
                bound = bounding.Result;
                bounding = null;
            }

            double done = settings.Repeatable ? steps / (seconds * StepsASecond) : watch.Elapsed.TotalSeconds / seconds;
            told?.Invoke(HasPlan ? Values[place] : null, bound, Math.Min(1, done));
            if (done >= 1 || (HasPlan && Values[place] <= bound))
            {
                break;
            }

            // Four coolings in the time of a level, each from a plan as good as the best.
            double heat = 1 - ((done * 4) % 1);
            Round(place, heat * heat, bounding is null ? walkers.Length : Math.Max(1, walkers.Length - 1));
            steps += RoundSteps * walkers.Length;
        }

        Spent = settings.Repeatable ? Math.Min(seconds, steps / (double)StepsASecond) : watch.Elapsed.TotalSeconds;
        if (bounding is not null)
        {
            // What the bound has reached by now counts.
            stop.Cancel();
            bound = Math.Max(bound, bounding.GetAwaiter().GetResult());
        }

        return HasPlan ? Math.Min(bound, Values[place]) : bound;
    }

    public SchedulePlan Plan(IReadOnlyList<LevelResult> levels)
    {
        List<TaskPlan> tasks = [];
        SearchState state = new(index);
        foreach (Placement placement in Best.OfType<Placement>())
        {
            state.Add(placement);
            tasks.AddRange(placement.Option.Tasks.Select((t, i) => new TaskPlan(t.Place, placement.Start[i], placement.End[i], placement.Mode[i])));
        }

        return new([.. tasks.OrderBy(t => t.Task)], [.. Best.OfType<Placement>().Select(p => p.Option.Place).Order()], state.Extras(), levels);
    }

    /// <summary>Takes a plan of another origin over where it is better.</summary>
    public void Offer(SchedulePlan plan)
    {
        walkers[0].Load(Beside(InOrder(plan)));
        Share();
    }

    // Of a plan of another origin what this problem still allows, each project for itself.
    private IEnumerable<Placement> InOrder(SchedulePlan plan)
    {
        Dictionary<int, TaskPlan> byTask = plan.Tasks.ToDictionary(t => t.Task);
        foreach (int option in plan.Options)
        {
            Placement placement = new(index.Options[option]);
            bool whole = true;
            for (int i = 0; i < placement.Start.Length && whole; i++)
            {
                whole = byTask.TryGetValue(placement.Option.Tasks[i].Place, out TaskPlan task);
                (placement.Start[i], placement.End[i], placement.Mode[i]) = (task.Start, task.End, task.Mode);
            }

            if (whole && IsInOrder(placement))
            {
                placement.Count();
                yield return placement;
            }
        }
    }

    // What does not fit beside the rest is left out.
    private Placement?[] Beside(IEnumerable<Placement?> given)
    {
        Placement?[] placements = new Placement?[index.Groups.Length];
        SearchState state = new(index);
        foreach (Placement placement in given.OfType<Placement>())
        {
            state.Add(placement);
            if (state.IsOver(placement))
            {
                state.Remove(placement.Option.Group);
            }
            else
            {
                placements[placement.Option.Group] = placement;
            }
        }

        return placements;
    }

    // Whether the times of an option still are what its tasks, calendars and waits ask for.
    private static bool IsInOrder(Placement placement)
    {
        for (int i = 0; i < placement.Start.Length; i++)
        {
            SearchTask task = placement.Option.Tasks[i];
            int start = placement.Start[i];
            bool placed = task.Definition.FixedStart is int started ? start == started : start >= task.Definition.Release
                && Array.TrueForAll(placement.Option.Before[i], b => start >= placement.End[b.Task] + b.Lag);
            if (!placed || placement.Option.Definition.Forbidden || placement.End[i] != task.End(start, task.Modes[placement.Mode[i]].Duration))
            {
                return false;
            }
        }

        return true;
    }

    private void Round(int focus, double heat, int active)
    {
        if (active == 1 || settings.Workers == 1)
        {
            for (int i = 0; i < active; i++)
            {
                walkers[i].Walk(RoundSteps, Focus(focus), heat, cancellation);
            }
        }
        else
        {
            Parallel.For(0, active, new ParallelOptions { MaxDegreeOfParallelism = settings.Workers }, i => walkers[i].Walk(RoundSteps, Focus(focus), heat, cancellation));
        }

        Share();
    }

    // While there is no plan, what is impossible is looked for first.
    private int Focus(int level) => HasPlan ? level : LevelValues.Impossible;

    private void Share()
    {
        PlanWalker best = walkers[0];
        foreach (PlanWalker walker in walkers)
        {
            if (LevelValues.IsLess(walker.BestValues, best.BestValues, counts))
            {
                best = walker;
            }
        }

        if (Values.Length == 0 || LevelValues.IsLess(best.BestValues, Values, counts))
        {
            Values = [.. best.BestValues];
            Best = [.. best.Best];
        }

        foreach (PlanWalker walker in walkers)
        {
            // A walker that has gone far astray comes back to the best.
            if (walker != best && LevelValues.IsLess(best.BestValues, walker.BestValues, counts) && walker.Steps / RoundSteps % 5 == 4)
            {
                walker.Load(best.Best);
            }
            else if (walker == best && walker.Steps / RoundSteps % 20 == 19)
            {
                walker.Load(best.Best);
            }
        }
    }
}
