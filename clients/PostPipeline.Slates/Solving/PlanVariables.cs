using Google.OrTools.Sat;
using PostPipeline.Slates.Scheduling;

namespace PostPipeline.Slates.Solving;

/// <summary>What a plan decides, as variables of a constraint model.</summary>
internal sealed class PlanVariables(CpModel model, ScheduleProblem problem)
{
    // Before any other variable: the solver's way depends on the order in which they are made.
    private readonly ILiteral always = model.TrueLiteral();

    /// <summary>Whether an option is taken.</summary>
    public BoolVar[] Options { get; } = [.. problem.Options.Select(o => model.NewBoolVar(o.Name))];

    /// <summary>When each task starts.</summary>
    public IntVar[] Starts { get; } = new IntVar[problem.Tasks.Count];

    /// <summary>When each task ends.</summary>
    public IntVar[] Ends { get; } = new IntVar[problem.Tasks.Count];

    /// <summary>Which mode each task is done in; a task with one mode has no variable for it.</summary>
    public BoolVar?[][] Modes { get; } = new BoolVar?[problem.Tasks.Count][];

    /// <summary>How many units are rented in each period.</summary>
    public List<(ExtraPlan Period, IntVar Units)> Extras { get; } = [];

    /// <summary>Whether a task is done.</summary>
    public ILiteral Presence(int task) => problem.Tasks[task].Option is int option ? Options[option] : always;

    /// <summary>Gives the solver a plan to start from.</summary>
    public void Hint(SchedulePlan plan)
    {
        model.ClearHints();
        foreach (TaskPlan task in plan.Tasks)
        {
            model.AddHint(Starts[task.Task], task.Start);
            model.AddHint(Ends[task.Task], task.End);
            for (int mode = 0; mode < Modes[task.Task].Length; mode++)
            {
                if (Modes[task.Task][mode] is BoolVar chosen)
                {
                    model.AddHint(chosen, mode == task.Mode);
                }
            }
        }

        for (int option = 0; option < Options.Length; option++)
        {
            model.AddHint(Options[option], plan.Options.Contains(option));
        }

        foreach ((ExtraPlan period, IntVar units) in Extras)
        {
            model.AddHint(units, plan.Extras.FirstOrDefault(e => e.Resource == period.Resource && e.From == period.From).Units);
        }
    }

    /// <summary>The plan that the solver found.</summary>
    public SchedulePlan Read(CpSolver solver, IReadOnlyList<LevelResult> levels)
    {
        List<TaskPlan> tasks = [];
        for (int task = 0; task < problem.Tasks.Count; task++)
        {
            if (problem.Tasks[task].Option is int option && !solver.BooleanValue(Options[option]))
            {
                continue;
            }

            int mode = Array.FindIndex(Modes[task], m => m is null || solver.BooleanValue(m));
            tasks.Add(new(task, (int)solver.Value(Starts[task]), (int)solver.Value(Ends[task]), mode));
        }

        return new(
            tasks,
            [.. Enumerable.Range(0, Options.Length).Where(o => solver.BooleanValue(Options[o]))],
            [.. Extras.Select(e => e.Period with { Units = solver.Value(e.Units) }).Where(e => e.Units > 0)],
            levels);
    }
}
