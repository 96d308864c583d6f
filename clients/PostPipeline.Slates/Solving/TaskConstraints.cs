using Google.OrTools.Sat;
using PostPipeline.Slates.Scheduling;

namespace PostPipeline.Slates.Solving;

/// <summary>Choices, tasks and their order: one interval a task and mode.</summary>
internal sealed class TaskConstraints(CpModel model, ScheduleProblem problem, PlanVariables plan, ResourceConstraints resources)
{
    /// <summary>Adds them, and what each task uses to the resources.</summary>
    public void Add()
    {
        AddChoices();
        for (int task = 0; task < problem.Tasks.Count; task++)
        {
            AddTask(task);
        }

        AddPrecedences();
    }

    private void AddChoices()
    {
        foreach (ScheduleChoice choice in problem.Choices)
        {
            model.AddExactlyOne(choice.Options.Select(o => plan.Options[o]));
        }

        for (int option = 0; option < plan.Options.Length; option++)
        {
            if (problem.Options[option].Forbidden)
            {
                model.Add(plan.Options[option] == 0);
            }
        }
    }

    private void AddTask(int task)
    {
        ScheduleTask definition = problem.Tasks[task];
        int latest = Math.Min(problem.Horizon, definition.Deadline ?? problem.Horizon);
        int first = definition.FixedStart ?? definition.Release;
        int last = definition.FixedStart ?? problem.Horizon;

        // A task that is not done still needs values in range; its deadline binds only where it is done.
        plan.Starts[task] = model.NewIntVar(Math.Min(first, problem.Horizon), Math.Min(last, problem.Horizon), $"start {definition.Name}");
        plan.Ends[task] = model.NewIntVar(0, problem.Horizon, $"end {definition.Name}");
        ILiteral done = plan.Presence(task);
        model.Add(plan.Ends[task] <= latest).OnlyEnforceIf(done);

        bool single = definition.Modes.Count == 1;
        BoolVar?[] modes = [.. definition.Modes.Select((_, m) => single ? null : model.NewBoolVar($"{definition.Name} mode {m}"))];
        plan.Modes[task] = modes;
        if (!single)
        {
            model.Add(LinearExpr.Sum(modes.Select(m => m!)) == 1).OnlyEnforceIf(done);
            foreach (BoolVar? mode in modes)
            {
                model.AddImplication(mode!, done);
            }
        }

        for (int mode = 0; mode < definition.Modes.Count; mode++)
        {
            AddMode(task, mode, modes[mode] is BoolVar chosen ? chosen : done);
        }
    }

    private void AddMode(int task, int mode, ILiteral chosen)
    {
        ScheduleTask definition = problem.Tasks[task];
        TaskMode way = definition.Modes[mode];
        IntVar start = plan.Starts[task];
        IntVar finish = plan.Ends[task];
        IntervalVar interval;
        if (definition.Calendar is int place)
        {
            // In a calendar the end is a table over the start, and the length is what lies between.
            SlotCalendar calendar = problem.Calendars[place];
            int[] table = [.. Enumerable.Range(0, problem.Horizon + 1).Select(s => calendar.End(s, way.Duration) ?? problem.Horizon + 1)];
            IntVar end = model.NewIntVar(0, problem.Horizon + 1, $"calendar end {definition.Name} {mode}");
            model.AddElement(start, table, end);
            model.Add(finish == end).OnlyEnforceIf(chosen);
            IntVar size = model.NewIntVar(0, problem.Horizon, $"length {definition.Name} {mode}");
            interval = model.NewOptionalIntervalVar(start, size, finish, chosen, $"{definition.Name} {mode}");
        }
        else
        {
            interval = model.NewOptionalIntervalVar(start, model.NewConstant(way.Duration), finish, chosen, $"{definition.Name} {mode}");
        }

        foreach (ResourceUse use in way.Uses.Where(u => u.Amount > 0))
        {
            resources.Use(use, interval);
        }
    }

    private void AddPrecedences()
    {
        foreach (Precedence precedence in problem.Precedences)
        {
            model.Add(plan.Starts[precedence.After] >= plan.Ends[precedence.Before] + precedence.Lag)
                .OnlyEnforceIf([plan.Presence(precedence.Before), plan.Presence(precedence.After)]);
        }
    }
}
