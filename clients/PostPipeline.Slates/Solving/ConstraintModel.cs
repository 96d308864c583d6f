using Google.OrTools.Sat;
using PostPipeline.Slates.Scheduling;

namespace PostPipeline.Slates.Solving;

/// <summary>A problem as constraints: one interval a task and mode, one cumulative a resource.</summary>
internal sealed class ConstraintModel
{
    private readonly PlanVariables plan;
    private readonly LevelExpressions levels;

    public ConstraintModel(ScheduleProblem problem)
    {
        plan = new(Model, problem);
        levels = new(Model, problem, plan);
        ResourceConstraints resources = new(Model, problem, plan);
        new TaskConstraints(Model, problem, plan, resources).Add();
        resources.Add();
    }

    public CpModel Model { get; } = new();

    /// <summary>A level as an expression; the same one however often it is asked for.</summary>
    public LinearExpr Objective(ScheduleLevel level) => levels.Of(level);

    /// <summary>Lets a level have no more than a value.</summary>
    public void Limit(ScheduleLevel level, long most) => Model.Add(Objective(level) <= most);

    /// <summary>Says that no plan has less of a level than a value.</summary>
    public void AtLeast(ScheduleLevel level, long least) => Model.Add(Objective(level) >= least);

    /// <summary>Gives the solver a plan to start from.</summary>
    public void Hint(SchedulePlan start) => plan.Hint(start);

    /// <summary>The plan that the solver found.</summary>
    public SchedulePlan Read(CpSolver solver, IReadOnlyList<LevelResult> results) => plan.Read(solver, results);
}
