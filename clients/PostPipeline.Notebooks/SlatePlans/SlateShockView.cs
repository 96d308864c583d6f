using PostPipeline.Notebooks.Charts;
using PostPipeline.Notebooks.Rendering;
using PostPipeline.Slates.Options;
using PostPipeline.Slates.Planning;

namespace PostPipeline.Notebooks.SlatePlans;

/// <summary>A slate planned again after something happened: what moves, and what does not.</summary>
public sealed class SlateShockView
{
    private readonly SlateEvaluation evaluation;
    private readonly ShockedSlate shocked;
    private readonly SlatePlan before;
    private readonly PlanAnswer answer;
    private readonly string? hindrance;
    private readonly string what;
    private readonly int now;

    private SlateShockView(SlateEvaluation evaluation, ShockedSlate shocked, SlatePlan before, PlanAnswer answer, string? hindrance, string what, int now) =>
        (this.evaluation, this.shocked, this.before, this.answer, this.hindrance, this.what, this.now) = (evaluation, shocked, before, answer, hindrance, what, now);

    /// <summary>What it does to the plan, in a few sentences.</summary>
    public Markdown Answer
    {
        get
        {
            string known = $"{what}, known on {Day(now)}: ";
            if (hindrance is not null)
            {
                return new($"{what}: **nothing happens**; {hindrance}.");
            }

            if (answer.Plan is not { } after)
            {
                return new($"{known}**{(answer.ProvenImpossible ? "no plan keeps every limit" : "no plan was found in the time given")}** around what has started: {string.Join("; ", answer.Obstacles)}.");
            }

            string[] later = [.. after.Projects.Where(p => p.LateSlots > before.Of(p.Project).LateSlots).Select(p => $"{p.Project} {Say.Number(p.LateSlots / 2.0, "days")} late")];
            string[] pipelines = [.. after.Projects.Where(p => p.Pipeline != before.Of(p.Project).Pipeline).Select(p => $"{p.Project} takes {p.Pipeline} instead of {before.Of(p.Project).Pipeline}")];
            long rented = after.Rented - before.Rented;
            int all = after.Projects.Sum(p => p.Stages.Count);
            int moved = after.Projects.Sum(p => after.Moved(before, p.Project).Count);
            return new(known + string.Join("; ", (string[])
            [
                later.Length == 0 ? "**no date gives way**" : $"**{string.Join(", ", later)}**",
                pipelines.Length == 0 ? "every project keeps its pipeline" : string.Join(", ", pipelines),
                rented == 0 ? "nothing more is rented" : $"{(rented > 0 ? "more" : "less")} is rented, by {Say.Count(Math.Abs(rented))} {evaluation.MoneyUnit}",
                $"{moved} of {all} stages start at another time",
                .. shocked.Breaks.Select(b => $"**no plan mends this: {b}**"),
            ]) + ".");
        }
    }

    /// <summary>What it does to each project.</summary>
    public NumberTable Moves => new(
        $"What moves, and what does not: {what}",
        ["Project", "Pipeline before", "Pipeline after", "End before", "End after", "Late before (days)", "Late after (days)", "Stages that move"],
        answer.Plan is not { } after ? [] : [.. after.Projects.Select(IReadOnlyList<object?> (p) => [
            p.Project, before.Of(p.Project).Pipeline, p.Pipeline, Day(before.Of(p.Project).End - 1), Day(p.End - 1), before.Of(p.Project).LateSlots / 2.0, p.LateSlots / 2.0,
            after.Moved(before, p.Project) is { Count: > 0 } moved ? string.Join(", ", moved) : "none"])]);

    internal static SlateShockView Of(SlateProblem problem, SlatePlan plan, SlateEvaluation evaluation, string level, string shock, int place, int now, double seconds)
    {
        SlateShock happens = SlateShock.All.FirstOrDefault(s => s.Text == shock)
            ?? throw new ArgumentException($"'{shock}' is not known; allowed is {string.Join(", ", SlateShock.All.Select(s => s.Text))}", nameof(shock));
        string what = happens.IsOfAProject ? $"{plan.Projects[place].Project}, {shock}" : shock;
        if (happens.Hindrance(evaluation, place) is { } hindrance)
        {
            return new(evaluation, new(problem, []), plan, new(null, false, []), hindrance, what, now);
        }

        ShockedSlate shocked = happens.To(problem, evaluation, place, now, level);
        PlanAnswer answer = RunningSlate.Replan(shocked.Problem, plan, now, SlatePlanView.Settings(seconds), cancellation: Output.Stop);
        Output.Stop.ThrowIfCancellationRequested();
        return new(evaluation, shocked, plan, answer, null, what, now);
    }

    private string Day(int slot) => Say.Date(SlateLoads.DateOf(shocked.Problem.Clock, slot));
}
