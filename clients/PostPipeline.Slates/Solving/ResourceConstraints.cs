using Google.OrTools.Sat;
using PostPipeline.Slates.Scheduling;

namespace PostPipeline.Slates.Solving;

/// <summary>What is used of each resource and how much there is, rented units among it: one cumulative a resource.</summary>
internal sealed class ResourceConstraints(CpModel model, ScheduleProblem problem, PlanVariables plan)
{
    private readonly List<(IntervalVar Interval, long Amount)>[] uses = [.. problem.Resources.Select(_ => new List<(IntervalVar, long)>())];

    /// <summary>Notes that a resource is used over an interval.</summary>
    public void Use(ResourceUse use, IntervalVar interval) => uses[use.Resource].Add((interval, use.Amount));

    /// <summary>Adds what is held between tasks, and then every resource with all that uses it.</summary>
    public void Add()
    {
        AddHolds();
        foreach (FixedUse closed in problem.FixedUses.Where(f => f.Until > f.From))
        {
            Use(closed.Use, model.NewFixedSizeIntervalVar(model.NewConstant(closed.From), closed.Until - closed.From, "fixed"));
        }

        for (int resource = 0; resource < uses.Length; resource++)
        {
            AddResource(resource);
        }
    }

    private void AddHolds()
    {
        foreach (ResourceHold hold in problem.Holds)
        {
            if (hold.Use.Amount == 0)
            {
                continue;
            }

            ILiteral[] done = [plan.Presence(hold.FromTask), plan.Presence(hold.UntilTask)];
            BoolVar held = model.NewBoolVar($"held {hold.Name}");
            model.AddBoolAnd(done).OnlyEnforceIf(held);
            model.AddBoolOr([held, .. done.Select(d => d.Not())]);
            IntVar end = model.NewIntVar(0, problem.Horizon, $"end of {hold.Name}");
            IntVar size = model.NewIntVar(0, problem.Horizon, $"length of {hold.Name}");

            // A hold whose last task ends before its first begins holds nothing; it does not forbid the plan.
            IntVar until = model.NewIntVar(0, problem.Horizon, $"last of {hold.Name}");
            model.AddMinEquality(until, [plan.Ends[hold.UntilTask] + hold.Lag, LinearExpr.Constant(problem.Horizon)]);
            model.AddMaxEquality(end, [until, plan.Starts[hold.FromTask]]);
            Use(hold.Use, model.NewOptionalIntervalVar(plan.Starts[hold.FromTask], size, end, held, hold.Name));
        }
    }

    private void AddResource(int resource)
    {
        // The most there can be; what is not rented in a period is taken away again.
        ScheduleResource definition = problem.Resources[resource];
        IReadOnlyList<(int From, int Until)> periods = definition.ExtraPeriods(problem.Horizon);
        CumulativeConstraint cumulative = model.AddCumulative(definition.Capacity + (periods.Count == 0 ? 0 : definition.MostExtra));
        foreach ((IntervalVar interval, long amount) in uses[resource])
        {
            cumulative.AddDemand(interval, amount);
        }

        int covered = 0;
        foreach ((int from, int until) in periods)
        {
            TakeAway(cumulative, covered, from, definition.MostExtra);
            IntVar units = model.NewIntVar(0, definition.MostExtra, $"extra {definition.Name} {from}");
            plan.Extras.Add((new(resource, from, until, 0), units));
            cumulative.AddDemand(model.NewFixedSizeIntervalVar(model.NewConstant(from), until - from, "not rented"), definition.MostExtra - units);
            covered = until;
        }

        if (periods.Count > 0)
        {
            TakeAway(cumulative, covered, problem.Horizon, definition.MostExtra);
        }
    }

    private void TakeAway(CumulativeConstraint cumulative, int from, int until, long amount)
    {
        if (until > from)
        {
            cumulative.AddDemand(model.NewFixedSizeIntervalVar(model.NewConstant(from), until - from, "none to rent"), amount);
        }
    }
}
