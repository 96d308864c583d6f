using PostPipeline.Quantities;
using PostPipeline.Slates.Scheduling;
using PostPipeline.Slates.Solving;

namespace PostPipeline.Slates.Planning;

/// <summary>Plans a slate: which pipeline each project takes and when its stages run.</summary>
public static class SlatePlanner
{
    /// <summary>Plans a slate, level by level.</summary>
    /// <param name="problem">The slate.</param>
    /// <param name="settings">How long and how.</param>
    /// <param name="running">The plan that is followed now, which changes are counted against; null where there is none.</param>
    /// <param name="progress">Told of what is reached. May be null.</param>
    /// <param name="cancellation">Ends the search; the best plan so far is the answer.</param>
    /// <exception cref="SlateProblemException">The slate cannot be planned as it is written.</exception>
    public static PlanAnswer Plan(
        SlateProblem problem,
        PlanSettings settings,
        SlatePlan? running = null,
        IProgress<PlanProgress>? progress = null,
        CancellationToken cancellation = default)
    {
        SlateChecking.Check(problem);
        SlateMapping mapping = new(problem, running);
        return Solve(problem, mapping, settings, running is not null, running, progress, cancellation);
    }

    internal static PlanAnswer Solve(
        SlateProblem problem,
        SlateMapping mapping,
        PlanSettings settings,
        bool countsChanges,
        SlatePlan? start,
        IProgress<PlanProgress>? progress,
        CancellationToken cancellation)
    {
        Guard.Finite(settings.Seconds, 0.1, 86_400, nameof(settings.Seconds));
        Guard.InRange(settings.Workers, 1, 64, nameof(settings.Workers));
        foreach (double share in settings.Shares.Values)
        {
            Guard.Finite(share, 1e-6, 1e6, nameof(settings.Shares));
        }

        IReadOnlyList<PlanLevel> levels = mapping.Levels(countsChanges);
        Dictionary<ScheduleLevel, PlanLevel> names = levels.ToDictionary(SlateMapping.ToSchedule);
        ScheduleAnswer answer = ScheduleSolver.Solve(
            mapping.Schedule,
            [.. levels.Select(SlateMapping.ToSchedule)],
            new()
            {
                Seconds = settings.Seconds,
                Shares = [.. levels.Select(l => settings.Shares.GetValueOrDefault(l, 1))],
                Workers = settings.Workers,
                Seed = settings.Seed,
                Repeatable = settings.Repeatable,
                Exact = settings.Exact,
            },
            start is null ? null : mapping.Write(start),
            progress is null ? null : new Relay(r => progress.Report(new(names[r.Level], r.Value, r.Bound))),
            cancellation);
        return answer.Plan is SchedulePlan plan
            ? new(mapping.Read(plan, [.. plan.Levels.Select((l, i) => new PlanLevelResult(levels[i], l.Value, l.Bound))]), false, [])
            : new(null, answer.ProvenImpossible, PlanObstacles.Of(problem, mapping));
    }

    private sealed class Relay(Action<LevelResult> report) : IProgress<LevelResult>
    {
        public void Report(LevelResult value) => report(value);
    }
}
