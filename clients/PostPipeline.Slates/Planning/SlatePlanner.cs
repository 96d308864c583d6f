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
        IReadOnlyList<PlanLevel> levels = mapping.Levels(running is not null);
        ScheduleAnswer answer = ScheduleSolver.Solve(
            mapping.Schedule,
            [.. levels.Select(SlateMapping.ToSchedule)],
            new() { Seconds = settings.Seconds, Workers = settings.Workers, Seed = settings.Seed, Repeatable = settings.Repeatable },
            null,
            cancellation);
        return answer.Plan is SchedulePlan plan
            ? new(mapping.Read(plan, [.. plan.Levels.Select((l, i) => new PlanLevelResult(levels[i], l.Value, l.Bound))]), false, [])
            : new(null, answer.ProvenImpossible, []);
    }
}
