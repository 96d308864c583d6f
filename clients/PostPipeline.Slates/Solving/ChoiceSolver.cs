using System.Diagnostics;
using PostPipeline.Slates.Scheduling;
using PostPipeline.Slates.Searching;

namespace PostPipeline.Slates.Solving;

/// <summary>
/// Solves a problem of choices: a search finds plans and bounds, and where the problem is small the constraint solver
/// takes what they leave open.
/// </summary>
internal static class ChoiceSolver
{
    // Beyond this many modes of tasks the constraint solver's own model proves less than the bounds do in the same time.
    private const int MostModesForExact = 400;

    public static ScheduleAnswer Solve(
        ScheduleProblem problem,
        SearchIndex index,
        IReadOnlyList<ScheduleLevel> levels,
        SolverSettings settings,
        SchedulePlan? start,
        IProgress<LevelResult>? progress,
        CancellationToken cancellation)
    {
        PlanSearch search = new(index, levels, new(settings.Workers, settings.Seed, settings.Repeatable), cancellation);
        if (search.Hopeless().Count > 0)
        {
            return new(null, ProvenImpossible: true);
        }

        Stopwatch starting = Stopwatch.StartNew();
        search.Start(start);
        bool small = settings.Exact && problem.Tasks.Sum(t => t.Modes.Count) <= MostModesForExact;
        double left = settings.Repeatable ? settings.Seconds : Math.Max(0.05, settings.Seconds - starting.Elapsed.TotalSeconds);
        long[] bounds = new long[levels.Count];
        for (int place = 0; place < levels.Count; place++)
        {
            double weight = Share(settings, place) / Enumerable.Range(place, levels.Count - place).Sum(p => Share(settings, p));
            double share = left * weight;
            Stopwatch watch = Stopwatch.StartNew();
            ScheduleLevel level = levels[place];
            bounds[place] = search.Improve(level, small ? share / 4 : share, (value, bound, _) =>
            {
                if (value is long known)
                {
                    progress?.Report(new(level, known, bound));
                }
            });
            double spent = search.Spent;
            if (small && !cancellation.IsCancellationRequested && !(search.HasPlan && search.Values[LevelValues.Of(level)] <= bounds[place]))
            {
                spent = share;
                ScheduleAnswer exact = Exactly(problem, levels, place, search, settings with { Seconds = share * 3 / 4 }, bounds[place], progress, cancellation);
                if (exact.ProvenImpossible && !search.HasPlan)
                {
                    return exact;
                }

                if (exact.Plan is SchedulePlan plan)
                {
                    search.Offer(plan);
                    bounds[place] = Math.Max(bounds[place], plan.Levels[^1].Bound);
                }
            }

            if (!search.HasPlan)
            {
                // The first level has all the time there is to find any plan.
                if (place == levels.Count - 1 || cancellation.IsCancellationRequested)
                {
                    return new(null, false);
                }
            }

            left = Math.Max(0.05, left - (settings.Repeatable ? spent : watch.Elapsed.TotalSeconds));
        }

        return new(search.Plan([.. levels.Select((l, i) =>
        {
            long value = search.Values[LevelValues.Of(l)];
            return new LevelResult(l, value, Math.Min(value, bounds[i]));
        })]), false);
    }

    private static double Share(SolverSettings settings, int place) => settings.Shares is null ? 1 : settings.Shares[place];

    // Earlier levels are kept as they are; only the level in question is made small.
    private static ScheduleAnswer Exactly(
        ScheduleProblem problem,
        IReadOnlyList<ScheduleLevel> levels,
        int place,
        PlanSearch search,
        SolverSettings settings,
        long bound,
        IProgress<LevelResult>? progress,
        CancellationToken cancellation)
    {
        ConstraintModel constraints = new(problem);
        for (int earlier = 0; earlier < place && search.HasPlan; earlier++)
        {
            constraints.Limit(levels[earlier], search.Values[LevelValues.Of(levels[earlier])]);
        }

        // What is proven already is told to the solver, and to whoever watches.
        constraints.AtLeast(levels[place], bound);
        return ScheduleSolver.Minimize(
            constraints, levels[place], settings, search.HasPlan ? search.Plan([]) : null, progress is null ? null : new NoLess(bound, progress), cancellation);
    }

    private sealed class NoLess(long bound, IProgress<LevelResult> progress) : IProgress<LevelResult>
    {
        public void Report(LevelResult value) => progress.Report(value with { Bound = Math.Max(value.Bound, Math.Min(bound, value.Value)) });
    }
}
