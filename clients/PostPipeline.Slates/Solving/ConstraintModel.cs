using Google.OrTools.Sat;
using PostPipeline.Slates.Scheduling;

namespace PostPipeline.Slates.Solving;

/// <summary>A problem as constraints: one interval a task and mode, one cumulative a resource.</summary>
internal sealed class ConstraintModel
{
    private readonly ScheduleProblem problem;
    private readonly BoolVar[] options;
    private readonly IntVar[] starts;
    private readonly IntVar[] ends;
    private readonly BoolVar?[][] modes;
    private readonly List<(ExtraPlan Period, IntVar Units)> extras = [];
    private readonly ILiteral always;
    private readonly Dictionary<ScheduleLevel, LinearExpr> objectives = [];

    public ConstraintModel(ScheduleProblem problem)
    {
        this.problem = problem;
        always = Model.TrueLiteral();
        options = [.. problem.Options.Select(o => Model.NewBoolVar(o.Name))];
        starts = new IntVar[problem.Tasks.Count];
        ends = new IntVar[problem.Tasks.Count];
        modes = new BoolVar?[problem.Tasks.Count][];
        List<(IntervalVar Interval, long Amount)>[] uses = [.. problem.Resources.Select(_ => new List<(IntervalVar, long)>())];

        AddChoices();
        for (int task = 0; task < problem.Tasks.Count; task++)
        {
            AddTask(task, uses);
        }

        AddPrecedences();
        AddHolds(uses);
        AddResources(uses);
    }

    public CpModel Model { get; } = new();

    /// <summary>A level as an expression; the same one however often it is asked for.</summary>
    public LinearExpr Objective(ScheduleLevel level)
    {
        if (!objectives.TryGetValue(level, out LinearExpr? expression))
        {
            expression = Expression(level);
            objectives[level] = expression;
        }

        return expression;
    }

    /// <summary>Lets a level have no more than a value.</summary>
    public void Limit(ScheduleLevel level, long most) => Model.Add(Objective(level) <= most);

    /// <summary>Says that no plan has less of a level than a value.</summary>
    public void AtLeast(ScheduleLevel level, long least) => Model.Add(Objective(level) >= least);

    private LinearExpr Expression(ScheduleLevel level) => level switch
    {
        ScheduleLevel.Makespan => MakespanExpression(),
        ScheduleLevel.WeightedLateness => LatenessExpression(0),
        ScheduleLevel.SecondLateness => LatenessExpression(1),
        ScheduleLevel.ThirdLateness => LatenessExpression(2),
        ScheduleLevel.Extras => LinearExpr.WeightedSum(extras.Select(e => e.Units), extras.Select(e => problem.Resources[e.Period.Resource].ExtraPrice)),
        ScheduleLevel.Money => MoneyExpression(),
        ScheduleLevel.Changes => ChangesExpression(),
        _ => throw new ArgumentOutOfRangeException(nameof(level), level, "This is not a level."),
    };

    public void Hint(SchedulePlan plan)
    {
        Model.ClearHints();
        foreach (TaskPlan task in plan.Tasks)
        {
            Model.AddHint(starts[task.Task], task.Start);
            Model.AddHint(ends[task.Task], task.End);
            for (int mode = 0; mode < modes[task.Task].Length; mode++)
            {
                if (modes[task.Task][mode] is BoolVar chosen)
                {
                    Model.AddHint(chosen, mode == task.Mode);
                }
            }
        }

        for (int option = 0; option < options.Length; option++)
        {
            Model.AddHint(options[option], plan.Options.Contains(option));
        }

        foreach ((ExtraPlan period, IntVar units) in extras)
        {
            Model.AddHint(units, plan.Extras.FirstOrDefault(e => e.Resource == period.Resource && e.From == period.From).Units);
        }
    }

    public SchedulePlan Read(CpSolver solver, IReadOnlyList<LevelResult> levels)
    {
        List<TaskPlan> tasks = [];
        for (int task = 0; task < problem.Tasks.Count; task++)
        {
            if (problem.Tasks[task].Option is int option && !solver.BooleanValue(options[option]))
            {
                continue;
            }

            int mode = Array.FindIndex(modes[task], m => m is null || solver.BooleanValue(m));
            tasks.Add(new(task, (int)solver.Value(starts[task]), (int)solver.Value(ends[task]), mode));
        }

        return new(
            tasks,
            [.. Enumerable.Range(0, options.Length).Where(o => solver.BooleanValue(options[o]))],
            [.. extras.Select(e => e.Period with { Units = solver.Value(e.Units) }).Where(e => e.Units > 0)],
            levels);
    }

    private ILiteral Presence(int task) => problem.Tasks[task].Option is int option ? options[option] : always;

    private void AddChoices()
    {
        foreach (ScheduleChoice choice in problem.Choices)
        {
            Model.AddExactlyOne(choice.Options.Select(o => options[o]));
        }

        for (int option = 0; option < options.Length; option++)
        {
            if (problem.Options[option].Forbidden)
            {
                Model.Add(options[option] == 0);
            }
        }
    }

    private void AddTask(int task, List<(IntervalVar Interval, long Amount)>[] uses)
    {
        ScheduleTask definition = problem.Tasks[task];
        int latest = Math.Min(problem.Horizon, definition.Deadline ?? problem.Horizon);
        int first = definition.FixedStart ?? definition.Release;
        int last = definition.FixedStart ?? problem.Horizon;

        // A task that is not done still needs values in range; its deadline binds only where it is done.
        starts[task] = Model.NewIntVar(Math.Min(first, problem.Horizon), Math.Min(last, problem.Horizon), $"start {definition.Name}");
        ends[task] = Model.NewIntVar(0, problem.Horizon, $"end {definition.Name}");
        ILiteral done = Presence(task);
        Model.Add(ends[task] <= latest).OnlyEnforceIf(done);

        bool single = definition.Modes.Count == 1;
        modes[task] = [.. definition.Modes.Select((_, m) => single ? null : Model.NewBoolVar($"{definition.Name} mode {m}"))];
        if (!single)
        {
            Model.Add(LinearExpr.Sum(modes[task].Select(m => m!)) == 1).OnlyEnforceIf(done);
            foreach (BoolVar? mode in modes[task])
            {
                Model.AddImplication(mode!, done);
            }
        }

        for (int mode = 0; mode < definition.Modes.Count; mode++)
        {
            AddMode(task, mode, modes[task][mode] is BoolVar chosen ? chosen : done, uses);
        }
    }

    private void AddMode(int task, int mode, ILiteral chosen, List<(IntervalVar Interval, long Amount)>[] uses)
    {
        ScheduleTask definition = problem.Tasks[task];
        TaskMode way = definition.Modes[mode];
        IntervalVar interval;
        if (definition.Calendar is int place)
        {
            // In a calendar the end is a table over the start, and the length is what lies between.
            SlotCalendar calendar = problem.Calendars[place];
            int[] table = [.. Enumerable.Range(0, problem.Horizon + 1).Select(s => calendar.End(s, way.Duration) ?? problem.Horizon + 1)];
            IntVar end = Model.NewIntVar(0, problem.Horizon + 1, $"calendar end {definition.Name} {mode}");
            Model.AddElement(starts[task], table, end);
            Model.Add(ends[task] == end).OnlyEnforceIf(chosen);
            IntVar size = Model.NewIntVar(0, problem.Horizon, $"length {definition.Name} {mode}");
            interval = Model.NewOptionalIntervalVar(starts[task], size, ends[task], chosen, $"{definition.Name} {mode}");
        }
        else
        {
            interval = Model.NewOptionalIntervalVar(starts[task], Model.NewConstant(way.Duration), ends[task], chosen, $"{definition.Name} {mode}");
        }

        foreach (ResourceUse use in way.Uses.Where(u => u.Amount > 0))
        {
            uses[use.Resource].Add((interval, use.Amount));
        }
    }

    private void AddPrecedences()
    {
        foreach (Precedence precedence in problem.Precedences)
        {
            Model.Add(starts[precedence.After] >= ends[precedence.Before] + precedence.Lag)
                .OnlyEnforceIf([Presence(precedence.Before), Presence(precedence.After)]);
        }
    }

    private void AddHolds(List<(IntervalVar Interval, long Amount)>[] uses)
    {
        foreach (ResourceHold hold in problem.Holds)
        {
            if (hold.Use.Amount == 0)
            {
                continue;
            }

            ILiteral[] done = [Presence(hold.FromTask), Presence(hold.UntilTask)];
            BoolVar held = Model.NewBoolVar($"held {hold.Name}");
            Model.AddBoolAnd(done).OnlyEnforceIf(held);
            Model.AddBoolOr([held, .. done.Select(d => d.Not())]);
            IntVar end = Model.NewIntVar(0, problem.Horizon, $"end of {hold.Name}");
            IntVar size = Model.NewIntVar(0, problem.Horizon, $"length of {hold.Name}");

            // A hold whose last task ends before its first begins holds nothing; it does not forbid the plan.
            IntVar until = Model.NewIntVar(0, problem.Horizon, $"last of {hold.Name}");
            Model.AddMinEquality(until, [ends[hold.UntilTask] + hold.Lag, LinearExpr.Constant(problem.Horizon)]);
            Model.AddMaxEquality(end, [until, starts[hold.FromTask]]);
            uses[hold.Use.Resource].Add((Model.NewOptionalIntervalVar(starts[hold.FromTask], size, end, held, hold.Name), hold.Use.Amount));
        }
    }

    private void AddResources(List<(IntervalVar Interval, long Amount)>[] uses)
    {
        foreach (FixedUse closed in problem.FixedUses.Where(f => f.Until > f.From))
        {
            IntervalVar interval = Model.NewFixedSizeIntervalVar(Model.NewConstant(closed.From), closed.Until - closed.From, "fixed");
            uses[closed.Use.Resource].Add((interval, closed.Use.Amount));
        }

        for (int resource = 0; resource < uses.Length; resource++)
        {
            // The most there can be; what is not rented in a period is taken away again.
            ScheduleResource definition = problem.Resources[resource];
            IReadOnlyList<(int From, int Until)> periods = definition.ExtraPeriods(problem.Horizon);
            CumulativeConstraint cumulative = Model.AddCumulative(definition.Capacity + (periods.Count == 0 ? 0 : definition.MostExtra));
            foreach ((IntervalVar interval, long amount) in uses[resource])
            {
                cumulative.AddDemand(interval, amount);
            }

            int covered = 0;
            foreach ((int from, int until) in periods)
            {
                TakeAway(cumulative, covered, from, definition.MostExtra);
                IntVar units = Model.NewIntVar(0, definition.MostExtra, $"extra {definition.Name} {from}");
                extras.Add((new(resource, from, until, 0), units));
                cumulative.AddDemand(Model.NewFixedSizeIntervalVar(Model.NewConstant(from), until - from, "not rented"), definition.MostExtra - units);
                covered = until;
            }

            if (periods.Count > 0)
            {
                TakeAway(cumulative, covered, problem.Horizon, definition.MostExtra);
            }
        }
    }

    private void TakeAway(CumulativeConstraint cumulative, int from, int until, long amount)
    {
        if (until > from)
        {
            cumulative.AddDemand(Model.NewFixedSizeIntervalVar(Model.NewConstant(from), until - from, "none to rent"), amount);
        }
    }

    private IntVar MakespanExpression()
    {
        IntVar makespan = Model.NewIntVar(0, problem.Horizon, "makespan");
        for (int task = 0; task < ends.Length; task++)
        {
            Model.Add(makespan >= ends[task]).OnlyEnforceIf(Presence(task));
        }

        return makespan;
    }

    private LinearExpr LatenessExpression(int rank)
    {
        LinearExpr sum = LinearExpr.Constant(0);
        for (int task = 0; task < ends.Length; task++)
        {
            if (problem.Tasks[task].Due is int due && problem.Tasks[task].LatenessWeight > 0 && problem.Tasks[task].LatenessRank == rank)
            {
                IntVar late = Model.NewIntVar(0, problem.Horizon, $"late {problem.Tasks[task].Name}");
                Model.Add(late >= ends[task] - due).OnlyEnforceIf(Presence(task));
                sum += late * problem.Tasks[task].LatenessWeight;
            }
        }

        return sum;
    }

    private LinearExpr MoneyExpression()
    {
        LinearExpr sum = LinearExpr.WeightedSum(options, problem.Options.Select(o => o.Cost));
        for (int task = 0; task < modes.Length; task++)
        {
            for (int mode = 0; mode < modes[task].Length; mode++)
            {
                long cost = problem.Tasks[task].Modes[mode].Cost;
                if (cost > 0)
                {
                    // A single mode is taken exactly where the task is done; a negated literal never occurs here.
                    sum += (modes[task][mode] ?? (problem.Tasks[task].Option is int option ? options[option] : (LinearExpr)LinearExpr.Constant(1))) * cost;
                }
            }
        }

        return sum;
    }

    private LinearExpr ChangesExpression()
    {
        LinearExpr sum = LinearExpr.WeightedSum(options, problem.Options.Select(o => o.Change));
        for (int task = 0; task < starts.Length; task++)
        {
            if (problem.Tasks[task].PlannedStart is int planned)
            {
                IntVar moved = Model.NewIntVar(0, problem.Horizon, $"moved {problem.Tasks[task].Name}");
                Model.Add(moved >= starts[task] - planned).OnlyEnforceIf(Presence(task));
                Model.Add(moved >= planned - starts[task]).OnlyEnforceIf(Presence(task));
                sum += moved;
            }
        }

        return sum;
    }
}
