using Google.OrTools.Sat;
using PostPipeline.Slates.Scheduling;

namespace PostPipeline.Slates.Solving;

/// <summary>What is to be made small, as expressions over a plan's variables.</summary>
internal sealed class LevelExpressions(CpModel model, ScheduleProblem problem, PlanVariables plan)
{
    private readonly Dictionary<ScheduleLevel, LinearExpr> known = [];

    /// <summary>A level as an expression; the same one however often it is asked for.</summary>
    public LinearExpr Of(ScheduleLevel level)
    {
        if (!known.TryGetValue(level, out LinearExpr? expression))
        {
            expression = Make(level);
            known[level] = expression;
        }

        return expression;
    }

    private LinearExpr Make(ScheduleLevel level) => level switch
    {
        ScheduleLevel.Makespan => Makespan(),
        ScheduleLevel.WeightedLateness => Lateness(0),
        ScheduleLevel.SecondLateness => Lateness(1),
        ScheduleLevel.ThirdLateness => Lateness(2),
        ScheduleLevel.Extras => LinearExpr.WeightedSum(plan.Extras.Select(e => e.Units), plan.Extras.Select(e => problem.Resources[e.Period.Resource].ExtraPrice)),
        ScheduleLevel.Money => Money(),
        ScheduleLevel.Changes => Changes(),
        _ => throw new ArgumentOutOfRangeException(nameof(level), level, "This is not a level."),
    };

    private IntVar Makespan()
    {
        IntVar makespan = model.NewIntVar(0, problem.Horizon, "makespan");
        for (int task = 0; task < plan.Ends.Length; task++)
        {
            model.Add(makespan >= plan.Ends[task]).OnlyEnforceIf(plan.Presence(task));
        }

        return makespan;
    }

    private LinearExpr Lateness(int rank)
    {
        LinearExpr sum = LinearExpr.Constant(0);
        for (int task = 0; task < plan.Ends.Length; task++)
        {
            if (problem.Tasks[task].Due is int due && problem.Tasks[task].LatenessWeight > 0 && problem.Tasks[task].LatenessRank == rank)
            {
                IntVar late = model.NewIntVar(0, problem.Horizon, $"late {problem.Tasks[task].Name}");
                model.Add(late >= plan.Ends[task] - due).OnlyEnforceIf(plan.Presence(task));
                sum += late * problem.Tasks[task].LatenessWeight;
            }
        }

        return sum;
    }

    private LinearExpr Money()
    {
        LinearExpr sum = LinearExpr.WeightedSum(plan.Options, problem.Options.Select(o => o.Cost));
        for (int task = 0; task < plan.Modes.Length; task++)
        {
            for (int mode = 0; mode < plan.Modes[task].Length; mode++)
            {
                long cost = problem.Tasks[task].Modes[mode].Cost;
                if (cost > 0)
                {
                    // A single mode is taken exactly where the task is done; a negated literal never occurs here.
                    sum += (plan.Modes[task][mode] ?? (problem.Tasks[task].Option is int option ? plan.Options[option] : (LinearExpr)LinearExpr.Constant(1))) * cost;
                }
            }
        }

        return sum;
    }

    private LinearExpr Changes()
    {
        LinearExpr sum = LinearExpr.WeightedSum(plan.Options, problem.Options.Select(o => o.Change));
        for (int task = 0; task < plan.Starts.Length; task++)
        {
            if (problem.Tasks[task].PlannedStart is int planned)
            {
                IntVar moved = model.NewIntVar(0, problem.Horizon, $"moved {problem.Tasks[task].Name}");
                model.Add(moved >= plan.Starts[task] - planned).OnlyEnforceIf(plan.Presence(task));
                model.Add(moved >= planned - plan.Starts[task]).OnlyEnforceIf(plan.Presence(task));
                sum += moved;
            }
        }

        return sum;
    }
}
