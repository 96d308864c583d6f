using System.Diagnostics;
using Google.OrTools.Sat;
using PostPipeline.Slates.Scheduling;

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
    /// <param name="progress">Told of each better plan: the level, its value and its bound. May be null.</param>
    /// <param name="cancellation">Ends the search; the best plan so far is the answer.</param>
    /// <exception cref="ArgumentException">The problem is not a problem; the message says what is wrong.</exception>
    public static ScheduleAnswer Solve(
        ScheduleProblem problem,
        IReadOnlyList<ScheduleLevel> levels,
        SolverSettings settings,
        IProgress<LevelResult>? progress = null,
        CancellationToken cancellation = default)
    {
        ScheduleValidation.Check(problem);
        ArgumentOutOfRangeException.ThrowIfZero(levels.Count);
        ConstraintModel constraints = new(problem);
        List<LevelResult> results = [];
        SchedulePlan? plan = null;
        double secondsLeft = settings.Seconds;
        for (int place = 0; place < levels.Count; place++)
        {
            LinearExpr objective = constraints.Objective(levels[place]);
            constraints.Model.Minimize(objective);
            if (plan is not null)
            {
                constraints.Hint(plan);
            }

            double share = secondsLeft / (levels.Count - place);
            Stopwatch watch = Stopwatch.StartNew();
            CpSolver solver = new() { StringParameters = Parameters(settings, share) };
            using CancellationTokenRegistration stop = cancellation.Register(solver.StopSearch);
            CpSolverStatus status = solver.Solve(constraints.Model, new Listener(levels[place], progress));
            secondsLeft = Math.Max(0.1, secondsLeft - (settings.Repeatable ? share : watch.Elapsed.TotalSeconds));
            if (status == CpSolverStatus.ModelInvalid)
            {
                throw new InvalidOperationException($"The model is not valid: {constraints.Model.Validate()}");
            }

            if (status is not (CpSolverStatus.Optimal or CpSolverStatus.Feasible))
            {
                // A later level keeps the plan of the earlier ones: running out of time there loses nothing.
                return plan is null
                    ? new(null, status == CpSolverStatus.Infeasible)
                    : new(plan with { Levels = results }, false);
            }

            long value = (long)Math.Round(solver.ObjectiveValue);
            results.Add(new(levels[place], value, Math.Min(value, (long)Math.Ceiling(solver.BestObjectiveBound - 1e-6))));
            plan = constraints.Read(solver, [.. results]);
            constraints.Model.Add(objective <= value);
            if (cancellation.IsCancellationRequested)
            {
                break;
            }
        }

        return new(plan, false);
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
