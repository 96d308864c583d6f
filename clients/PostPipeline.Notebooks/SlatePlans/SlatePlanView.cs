using PostPipeline.Notebooks.Charts;
using PostPipeline.Notebooks.Rendering;
using PostPipeline.Slates.Judging;
using PostPipeline.Slates.Options;
using PostPipeline.Slates.Planning;
using PostPipeline.Slates.Usage;

namespace PostPipeline.Notebooks.SlatePlans;

/// <summary>A plan of a slate as charts, tables and sentences: one member a claim, so that a cell is one line.</summary>
public sealed class SlatePlanView
{
    private readonly SlateEvaluation evaluation;
    private readonly SlateProblemBuilder builder;
    private readonly SlateProblem problem;
    private readonly string level;
    private readonly SlatePlan plan;
    private readonly Lazy<IReadOnlyList<JudgedProject>> judged;
    private readonly Lazy<IReadOnlyList<JudgedProject>> judgedIfLocksHold;

    internal SlatePlanView(SlateEvaluation evaluation, Func<SlateEvaluation> locksHold, SlateProblemBuilder builder, SlateProblem problem, string level, SlatePlan plan)
    {
        (this.evaluation, this.builder, this.problem, this.level, this.plan) = (evaluation, builder, problem, level, plan);
        judged = new(() => new PlanSimulation(evaluation, builder, plan).Run(Output.Stop));
        judgedIfLocksHold = new(() => locksHold() is var holding ? new PlanSimulation(holding, new(holding), plan).Run(Output.Stop) : []);
    }

    /// <summary>What the plan decides, in a few sentences.</summary>
    public Markdown Answer
    {
        get
        {
            List<string> lines = [];
            ProjectPlan[] late = [.. plan.Projects.Where(p => p.LateSlots > 0)];
            lines.Add(late.Length == 0
                ? "**Every date is kept** by the plan."
                : $"**{string.Join(", ", late.Select(p => $"{p.Project} is {Say.Number(p.LateSlots / 2.0, "days")} late"))}** in the plan.");
            (ProjectPlan Plan, string Cheapest)[] dearer = [.. plan.Projects.Select((p, i) => (p, evaluation.Projects[i].Options[0].Pipeline)).Where(p => p.p.Pipeline != p.Pipeline)];
            lines.AddRange(dearer.Select(d => $"**{d.Plan.Project} goes {d.Plan.Pipeline}**, although {d.Cheapest} is cheaper for it alone."));
            lines.AddRange(plan.Rentals.GroupBy(r => r.Resource).Select(r => $"Rented: {Rented(r.Key, r.Max(x => x.Units))} between {Day(r.Min(x => x.From))} and {Day(r.Max(x => x.Until) - 1)}, for {Say.Count(r.Sum(x => x.Price))} {MoneyUnit}."));
            if (dearer.Length == 0 && plan.Rentals.Count == 0)
            {
                lines.Add("Each project has the pipeline that is cheapest for it alone, and nothing is rented.");
            }

            string[] unsure = [.. judged.Value.Where(j => j.OnTime.Share < evaluation.Slate.Confidence).Select(j => $"{j.Project} ({Say.Probability(j.OnTime.Share)})")];
            lines.Add(unsure.Length == 0
                ? $"Run on {evaluation.Draws} draws, every project is on time with at least {Say.Probability(evaluation.Slate.Confidence)}."
                : $"Run on {evaluation.Draws} draws, below the {Say.Probability(evaluation.Slate.Confidence)} asked for: {string.Join(", ", unsure)}.");
            return new(string.Join("\n", lines.Select(l => "- " + l)));
        }
    }

    /// <summary>One row a project: pipeline, planned end, due, how sure.</summary>
    public NumberTable Projects => new(
        $"What is decided; probabilities over {evaluation.Draws} draws, if nothing outside the briefs' lists happens",
        ["Project", "Priority", "Pipeline", "Cheapest alone", "Planned end", "Due", "End P50", "End P90", "On time, locks hold", "On time, locks slip", $"Cost P50 ({MoneyUnit})"],
        [.. plan.Projects.Select(IReadOnlyList<object?> (p, i) => [
            p.Project, evaluation.Projects[i].Entry.Priority, p.Pipeline, evaluation.Projects[i].Options[0].Pipeline, Day(p.End - 1), $"{evaluation.Projects[i].Entry.Due:uuuu-MM-dd}",
            Day((int)Math.Ceiling(judged.Value[i].End.P50) - 1), Day((int)Math.Ceiling(judged.Value[i].End.P90) - 1), new Chance(judgedIfLocksHold.Value[i].OnTime.Share), new Chance(judged.Value[i].OnTime.Share), (double)p.Money])]);

    /// <summary>How far each aim was brought, in the order in which they count.</summary>
    public NumberTable Proof => new(
        "How good is the plan? Each aim is held while the next is improved",
        ["Aim", "Reached", "No plan has less than", "Gap", "Proven the least"],
        [.. plan.Levels.Select(IReadOnlyList<object?> (l) => [PlanLevelText.Of(l.Level), l.Value, l.Bound, l.Gap, l.IsProven])]);

    /// <summary>Why each project got its pipeline: what every other one would make worse.</summary>
    /// <param name="seconds">Time for planning with the others, all together.</param>
    public NumberTable Reasons(double seconds) => new(
        $"Why this pipeline? What would be worse with another, as far as the planner found ({MoneyUnit})",
        ["Project", "Takes", "Instead of", "What would be worse"],
        [.. SlateReasons.OfAll(problem, plan, Settings(seconds), Output.Stop).SelectMany(r => r.Alternatives.Select(IReadOnlyList<object?> (a) => [r.Project, r.Pipeline, a.Pipeline, a.Reason]))]);

    /// <summary>Stages of every project in time.</summary>
    public Figure Schedule => Chart.Projects(
        "When does each project's work run, and when is it due?",
        [.. plan.Projects.Select((p, i) => new PlannedProject(p.Project, p.Pipeline, Moment(DueSlot(i)), [.. p.Stages.Select(s => new PlannedStage(s.Stage, WorkOf(i, p, s.Stage), Moment(s.Start), Moment(s.End)))], Moment(judged.Value[i].End.P90)))]);

    /// <summary>Farm work by day against what there is.</summary>
    public Figure FarmLoad => Chart.DailyLoad("How full is the farm?", Loads.Farm);

    /// <summary>Storage by day against what there is.</summary>
    public Figure Occupancy => Chart.DailyLoad("Does the material fit? What each project keeps, as planned", Loads.Storage, areas: true);

    /// <summary>Node-hours, TB-days and person-hours of a week by project, as planned.</summary>
    /// <param name="week">The week, from 0 at the start of the slate.</param>
    public NumberTable Used(int week)
    {
        NodaTime.LocalDate day = problem.Clock.Start.PlusDays(7 * Math.Clamp(week, 0, (problem.Clock.Slots / 14) - 1));
        WeekUsage usage = WeekUsage.Of(problem, plan, builder.Capacities.HoursOf, day, new Dictionary<string, IReadOnlyList<Studies.Reforecasts.LogDay>>(), evaluation.Slate.People);
        double Sum(string project, UsageKind kind) => usage.Rows.Where(r => r.Project == project && r.Kind == kind).Sum(r => r.Amount);
        double There(UsageKind kind) => usage.Supply.Where(s => s.Kind == kind).Sum(s => s.Amount);
        return new(
            $"Who uses what from {usage.From:uuuu-MM-dd} to {usage.Until:uuuu-MM-dd}? As planned, with days that people are booked for a project; `slate usage` puts in what was logged",
            ["Project", "Node-hours", "TB-days", "Person-hours"],
            [
                .. plan.Projects.Select(IReadOnlyList<object?> (p) => [p.Project, Sum(p.Project, UsageKind.NodeHours), Sum(p.Project, UsageKind.TbDays), Sum(p.Project, UsageKind.PersonHours)]),
                ["There is", There(UsageKind.NodeHours), There(UsageKind.TbDays), There(UsageKind.PersonHours)],
            ]);
    }

    /// <summary>P(on time) of each project, if the lock dates hold and with their slip.</summary>
    public Figure OnTime => Chart.OnTime(
        "How sure is each date?",
        [.. judged.Value.Zip(judgedIfLocksHold.Value, (slips, holds) => new OnTimeBar(slips.Project, holds.OnTime.Share, slips.OnTime.Share, holds.OnTime.StandardError, slips.OnTime.StandardError))],
        evaluation.Slate.Confidence,
        "Project");

    /// <summary>How late each project is over the draws.</summary>
    public Figure Lateness => Chart.Lateness(
        "How late is each project when the plan is run on draws? P10, P50, P90",
        [.. judged.Value.Select((j, i) => new LatenessRow(j.Project, (j.End.P10 - DueSlot(i)) / 2, (j.End.P50 - DueSlot(i)) / 2, (j.End.P90 - DueSlot(i)) / 2, j.OnTime.Share))]);

    /// <summary>The slate planned again after something happened, with the fewest changes to what has started.</summary>
    /// <param name="shock">The text of one of <see cref="SlateShock.All"/>.</param>
    /// <param name="project">Whose, as a place in the slate from 1; beyond the last it is the last.</param>
    /// <param name="week">When it is known, in weeks from the start of the slate.</param>
    /// <param name="seconds">Time for planning.</param>
    public SlateShockView After(string shock, int project, int week, double seconds) =>
        SlateShockView.Of(problem, plan, evaluation, level, shock, Math.Clamp(project, 1, plan.Projects.Count) - 1, Math.Clamp(week * 14, 0, problem.Clock.Slots - 1), seconds);

    internal static PlanSettings Settings(double seconds) => new() { Seconds = seconds, Repeatable = true, Workers = Math.Min(2, Environment.ProcessorCount) };

    private SlateLoads Loads => new(problem, plan, builder.Capacities);

    private string MoneyUnit => evaluation.MoneyUnit;

    private string Rented(string resource, long units) => problem.Resources.First(r => r.Name == resource) is { Kind: SlateResourceKind.Storage }
        ? $"{Say.Number(units / 10.0)} TB of {resource} storage"
        : $"{units} of {resource}";

    private string WorkOf(int place, ProjectPlan project, string stage)
    {
        StageDraws? draws = evaluation.Projects[place].Of(project.Pipeline).Stages.FirstOrDefault(s => stage == s.Name || stage == $"{s.Name} (rest)");
        return draws switch
        {
            null => "edit",
            { Kind: StageKind.Shoot } => "shoot",
            { Resource: "editors" } or { Kind: StageKind.Edits } => "edit",
            { Resource: "assistants" or "graders" or "checkers" } => "people",
            _ => draws.Resource,
        };
    }

    private int DueSlot(int place) => builder.Time.Clock.EndOf(evaluation.Projects[place].Entry.Due);

    private DateTime Moment(double slot) => SlateLoads.MomentOf(problem.Clock, slot);

    private string Day(int slot) => Say.Date(SlateLoads.DateOf(problem.Clock, slot));
}
