using System.Diagnostics;
using Google.OrTools.Sat;
using PostPipeline.Slates.Scheduling;
using PostPipeline.Slates.Searching;

namespace PostPipeline.Slates.Solving;

/// <summary>
/// Brings the levels down one after another with a constraint solver. Every answer says what is proven: the
/// value, the bound that no plan can beat, and the gap between them.
/// </summary>
public static class ScheduleSolver
{
    /// <summary>Solves a problem.</summary>
    /// <param name="problem">The problem.</param>
    /// <param name="levels">What to make small, in order; at least one.</param>
    /// <param name="settings">How long and how.</param>
    /// <param name="start">A plan to start from; null where there is none.</param>
    /// <param name="progress">Told of each better plan: the level, its value and its bound. May be null.</param>
    /// <param name="cancellation">Ends the search; the best plan so far is the answer.</param>
    /// <exception cref="ArgumentException">The problem is not a problem; the message says what is wrong.</exception>
    public static ScheduleAnswer Solve(
        ScheduleProblem problem,
        IReadOnlyList<ScheduleLevel> levels,
        SolverSettings settings,
        SchedulePlan? start = null,
        IProgress<LevelResult>? progress = null,
        CancellationToken cancellation = default)
    {
        ScheduleValidation.Check(problem);
        ArgumentOutOfRangeException.ThrowIfZero(levels.Count);
        return levels.Contains(ScheduleLevel.Makespan) || SearchIndex.TryCreate(problem) is not SearchIndex index
            ? SolveExactly(problem, levels, settings, null, progress, cancellation)
            : ChoiceSolver.Solve(problem, index, levels, settings, start, progress, cancellation);
    }

    /// <summary>Solves a problem with the constraint solver alone.</summary>
    internal static ScheduleAnswer SolveExactly(
        ScheduleProblem problem,
        IReadOnlyList<ScheduleLevel> levels,
        SolverSettings settings,
        SchedulePlan? start,
        IProgress<LevelResult>? progress,
        CancellationToken cancellation)
    {
        ConstraintModel constraints = new(problem);
        List<LevelResult> results = [];
        SchedulePlan? plan = start;
        double secondsLeft = settings.Seconds;
        for (int place = 0; place < levels.Count; place++)
        {
            double share = secondsLeft / (levels.Count - place);
            Stopwatch watch = Stopwatch.StartNew();
            ScheduleAnswer answer = Minimize(constraints, levels[place], settings with { Seconds = share }, plan, progress, cancellation);
            secondsLeft = Math.Max(0.1, secondsLeft - (settings.Repeatable ? share : watch.Elapsed.TotalSeconds));
            if (answer.Plan is not SchedulePlan found)
            {
                // A later level keeps the plan of the earlier ones: running out of time there loses nothing.
                return results.Count == 0 ? answer : new(plan! with { Levels = results }, false);
            }

            results.Add(found.Levels[^1]);
            plan = found with { Levels = [.. results] };
            constraints.Limit(levels[place], found.Levels[^1].Value);
            if (cancellation.IsCancellationRequested)
            {
                break;
            }
        }

        return new(plan, false);
    }

    /// <summary>Makes one level small.</summary>
    internal static ScheduleAnswer Minimize(
        ConstraintModel constraints,
        ScheduleLevel level,
        SolverSettings settings,
        SchedulePlan? start,
        IProgress<LevelResult>? progress,
        CancellationToken cancellation)
    {
        constraints.Model.Minimize(constraints.Objective(level));
        if (start is not null)
        {
            constraints.Hint(start);
        }

        CpSolver solver = new() { StringParameters = Parameters(settings, settings.Seconds) };
        using CancellationTokenRegistration stop = cancellation.Register(solver.StopSearch);
        CpSolverStatus status = solver.Solve(constraints.Model, new Listener(level, progress));
        if (status == CpSolverStatus.ModelInvalid)
        {
            throw new InvalidOperationException($"The model is not valid: {constraints.Model.Validate()}");
        }

        if (status is not (CpSolverStatus.Optimal or CpSolverStatus.Feasible))
        {
            return new(null, status == CpSolverStatus.Infeasible);
        }

        long value = (long)Math.Round(solver.ObjectiveValue);
        LevelResult result = new(level, value, Math.Min(value, (long)Math.Ceiling(solver.BestObjectiveBound - 1e-6)));
        return new(constraints.Read(solver, [result]), false);
    }

    private static string Parameters(SolverSettings settings, double seconds) =>
        settings.Repeatable
            ? $"num_workers:{settings.Workers},interleave_search:{(settings.Workers > 1 ? "true" : "false")},random_seed:{settings.Seed},max_deterministic_time:{seconds:F3}"
            : $"num_workers:{settings.Workers},random_seed:{settings.Seed},max_time_in_seconds:{seconds:F3}";

    private sealed class Listener(ScheduleLevel level, IProgress<LevelResult>? progress) : CpSolverSolutionCallback
    {
        public override void OnSolutionCallback() =>
            progress?.Report(new(level, (long)Math.Round(ObjectiveValue()), (long)Math.Ceiling(BestObjectiveBound() - 1e-6)));
    }
}
