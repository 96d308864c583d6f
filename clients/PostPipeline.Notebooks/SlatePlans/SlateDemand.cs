using PostPipeline.Notebooks.Charts;
using PostPipeline.Notebooks.Rendering;
using PostPipeline.Slates.Checking;
using PostPipeline.Slates.Options;
using PostPipeline.Slates.Planning;

namespace PostPipeline.Notebooks.SlatePlans;

/// <summary>What is due on a slate against what there is: whether it fits, and what breaks first.</summary>
public sealed class SlateDemand
{
    private readonly SlateEvaluation evaluation;
    private readonly Func<SlateEvaluation> locksHold;
    private readonly SlateProblemBuilder builder;
    private readonly string level;
    private readonly Lazy<IReadOnlyList<CapacityBreak>> breaks;

    internal SlateDemand(SlateEvaluation evaluation, Func<SlateEvaluation> locksHold, string level)
    {
        (this.evaluation, this.locksHold, this.level) = (evaluation, locksHold, level);
        builder = new(evaluation);
        breaks = new(() => SlateCheck.Run(evaluation));
    }

    /// <summary>The slate in a sentence.</summary>
    public Markdown About
    {
        get
        {
            PostPipeline.Slates.Files.Slate slate = evaluation.Slate;
            return new($"**{slate.Title}**: {slate.Projects.Count} projects over {slate.Weeks} weeks from {slate.Starts:uuuu-MM-dd} on {slate.Farm.Nodes.Sum(n => n.Count)} nodes, with {slate.People.Count} people. Each date must be kept with {Say.Probability(slate.Confidence)}; durations are planned at {level}.");
        }
    }

    /// <summary>Whether everybody can take the pipeline that is cheapest for them alone.</summary>
    public Markdown Fits
    {
        get
        {
            string cheapest = $"Each project on the pipeline that is cheapest for it alone ({string.Join(", ", evaluation.Projects.Select(p => $"{p.Entry.Name} {p.Options[0].Pipeline}"))}): ";
            if (breaks.Value.Count == 0)
            {
                return new(cheapest + "no release and due date break a limit. That does not show that an order of work exists; the plan does.");
            }

            CapacityBreak first = breaks.Value[0];
            return new($"{cheapest}**it does not fit**. First **{first.Resource}** breaks, by {Day(first.Until - 1)} at {first.Level}: {Say.Number(first.Inside)} {first.Unit} are due from {Day(first.From)} on, {Say.Number(first.Capacity)} can be had. It hits {string.Join(", ", first.Hit)}. No order of work helps against that: another pipeline, something rented or a date can.");
        }
    }

    /// <summary>Every limit that breaks, the first date first.</summary>
    public NumberTable Breaks => new(
        "What breaks first, with each project on its cheapest pipeline",
        ["Level", "What", "From", "Until", "Due", "Can be had", "Missing", "Unit", "Whose, the least priority first"],
        [.. breaks.Value.Select(IReadOnlyList<object?> (b) => [b.Level, b.Resource, Day(b.From), Day(b.Until - 1), b.Inside, b.Capacity, b.Missing, b.Unit, string.Join(", ", b.Hit)])]);

    /// <summary>Plans the slate, and runs the plan on the draws.</summary>
    /// <param name="seconds">Time for planning, as steps that fit into so many seconds of an idle machine: the same slate gives the same plan.</param>
    public SlatePlanView Plan(double seconds) => Plan(seconds, Environment.ProcessorCount);

    internal SlatePlanView Plan(double seconds, int threads)
    {
        SlateProblem problem = builder.Build(level);
        PlanAnswer answer = SlatePlanner.Plan(problem, SlatePlanView.Settings(seconds) with { Workers = Math.Clamp(threads, 1, 64) }, cancellation: Output.Stop);
        Output.Stop.ThrowIfCancellationRequested();
        return new(evaluation, locksHold, builder, problem, level, answer.Plan ?? throw new InvalidOperationException($"{(answer.ProvenImpossible ? "no plan keeps every limit" : "no plan was found in the time given")}: {string.Join("; ", answer.Obstacles)}"));
    }

    private string Day(int slot) => Say.Date(SlateLoads.DateOf(builder.Time.Clock, slot));
}
