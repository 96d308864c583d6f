using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Inputs;
using PostPipeline.Studies.Outcomes;
using PostPipeline.Studies.Printing;
using PostPipeline.Studies.Stages;
using PostPipeline.Studies.Takes;

namespace PostPipeline.Studies.Derivations;

/// <summary>
/// Says why a headline number is what it is. The trees stand on the median case, in which every input has its median and
/// no named event happens; the ranges beside them come from the draws.
/// </summary>
public sealed class Why
{
    private const string Ours = "model of this program, docs/design.md";
    private readonly Comparison comparison;
    private readonly StudyModel model;
    private readonly Brief brief;
    private readonly Scope scope;

    /// <summary>Prepares the trees of a comparison.</summary>
    /// <param name="comparison">The comparison.</param>
    public Why(Comparison comparison)
    {
        (this.comparison, model, brief) = (comparison, comparison.Model, comparison.Model.Study.Brief);
        scope = model.NewScope();
        model.Prepare(scope, DrawSet.Median(model.Inputs), 0, [.. comparison.Changes.Select(c => (model.Inputs.PlaceOf(c.Input), c))]);
    }

    /// <summary>The numbers that can be asked for.</summary>
    public static IReadOnlyList<string> Names { get; } =
        ["bytes-per-day", "record-time", "offload-end", "farm-finish", "node-hours", "online-peak", "nearline-peak", "delivery", "on-time", "cost"];

    /// <summary>The trees behind a number: one, or one a pipeline.</summary>
    /// <param name="name">One of <see cref="Names"/>.</param>
    /// <exception cref="ArgumentException">There is no such number; the message names the nearest.</exception>
    public IReadOnlyList<Derivation> Of(string name) => name switch
    {
        "bytes-per-day" => [BytesPerDay()],
        "record-time" => [.. model.Study.Recordings.Select(RecordTime)],
        "offload-end" => [OffloadEnd()],
        "farm-finish" => [.. Each(FarmFinish)],
        "node-hours" => [.. Each(NodeHours)],
        "online-peak" => [.. Each((p, _) => Peak(p, 0))],
        "nearline-peak" => [.. Each((p, _) => Peak(p, 1))],
        "delivery" => [.. Each(Delivery)],
        "on-time" => [.. Each(OnTime)],
        "cost" => [.. Each(Cost)],
        _ => throw new ArgumentException($"There is no number '{name}' to explain; there are {string.Join(", ", Names)}{(NearestWord.Of(name, Names) is { } near ? $"; did you mean '{near}'?" : string.Empty)}", nameof(name)),
    };

    private IEnumerable<Derivation> Each(Func<PipelinePlan, PipelineOutcome, Derivation> tree)
    {
        for (int p = 0; p < model.Plans.Count; p++)
        {
            PipelineResult result = new();
            model.Plans[p].Compute(scope, result);
            yield return tree(model.Plans[p], comparison.Pipelines[p]);
        }
    }

    private Derivation BytesPerDay()
    {
        int days = brief.Shoot.Days;
        return Derivation.Computed(
            "bytes per shoot day, mean",
            Numbers.Size(comparison.BytesPerDay.Mean),
            "Σ over cameras and modes of planned hours × 3600 × sensor rate × bytes per frame, ÷ shoot days",
            $"{Numbers.Size(model.Study.Strands.Sum(s => (double)s.TotalBytes))} ÷ {days} days",
            Ours,
            [.. model.Study.Strands.Select(StrandBytes)]);
    }

    private Derivation StrandBytes(Strand strand)
    {
        Camera camera = brief.Shoot.Cameras[strand.Camera];
        CaptureMode mode = strand.Recording.Mode;
        return Derivation.Computed(
            $"camera {camera.Letter}, mode {mode.Name}, whole shoot",
            Numbers.Size(strand.TotalBytes),
            "frames × bytes per frame",
            $"{Numbers.Exact(strand.TotalFrames)} × {Numbers.Exact(strand.BytesPerFrame)} B",
            Ours,
            Derivation.Of(strand.Recording.HoursPerDay),
            Derivation.Fact("sensor rate", $"{mode.SensorRate} fps", "the brief"),
            Derivation.Computed(
                "bytes per frame",
                $"{Numbers.Exact(strand.BytesPerFrame)} B",
                mode.Rate is null ? "width × height × bits per pixel ÷ 8, rounded up" : "bits per second ÷ 8 ÷ project rate, rounded up",
                mode.Rate is { } rate ? $"{rate.BitsPerSecond} ÷ 8 ÷ {mode.ProjectRate}" : $"{mode.Raster.Width} × {mode.Raster.Height} × {Numbers.Three(mode.BitsPerPixel)} ÷ 8",
                "the footage service",
                Derivation.Fact("raster", mode.Raster.ToString(), "the brief")));
    }

    private Derivation RecordTime(RecordingFacts facts)
    {
        Camera camera = brief.Shoot.Cameras[facts.Camera];
        CaptureMode mode = camera.Recordings[facts.Recording].Mode;
        return Derivation.Computed(
            $"record time of a card, camera {camera.Letter}, mode {mode.Name} ({facts.Kind})",
            Numbers.Duration(facts.CardSeconds),
            "card size ÷ bytes written a second; sustained where peak bytes a second ≤ rated write rate × trust",
            $"{Numbers.Size(camera.Card.Size.Bytes)} ÷ {Numbers.Rate(facts.BytesPerFrame * mode.SensorRate.FramesPerSecond.ToDouble())} written; {Numbers.Rate(facts.NeededBytesPerSecond)} against {Numbers.Rate(camera.Card.Write.BytesPerSecond.ToDouble())} × {Numbers.Three(camera.Card.Trust)} = {Numbers.Rate(facts.CeilingBytesPerSecond)}",
            "the footage service",
            Derivation.Fact("card", $"{Numbers.Size(camera.Card.Size.Bytes)}, rated {Numbers.Rate(camera.Card.Write.BytesPerSecond.ToDouble())} written", "the brief"),
            Derivation.Fact("bytes per frame", $"{Numbers.Exact(facts.BytesPerFrame)} B", "the footage service"));
    }

    private Derivation OffloadEnd() => Derivation.Computed(
        $"end of offload on the latest day (shoot day {comparison.LatestOffloadDay + 1})",
        Numbers.Clock(comparison.LatestOffloadEnd),
        "finish of the last card in the day simulated card by card: pulled when full or at wrap, transit, a free station, copy, verify, look",
        $"{model.Study.Offload.Cards.Max(c => c[comparison.LatestOffloadDay])} cards, {brief.Offload.Stations} stations, slowest link: {model.Study.Offload.BindingLink}",
        "the offload service",
        [
            Derivation.Fact("reader", Numbers.Rate(brief.Offload.Reader.BytesPerSecond.ToDouble()) + " read", "the brief"),
            .. brief.Offload.Destinations.Select((d, i) => Derivation.Fact($"copy {i + 1}", Numbers.Rate(d.Write.BytesPerSecond.ToDouble()) + " written", "the brief")),
            Derivation.Fact("verify", brief.Offload.Verify, "the brief"),
            Derivation.Fact("transit and look", $"{Amounts.Time(brief.Offload.TransitSeconds)} and {Amounts.Time(brief.Offload.LookSeconds)}", "the brief"),
        ]);

    private Derivation FarmFinish(PipelinePlan plan, PipelineOutcome outcome)
    {
        if (plan.FarmStage < 0)
        {
            return Derivation.Fact($"{plan.Name}: farm finish", "the farm converts nothing", Ours);
        }

        FarmCalibration? calibration = model.Study.Calibrations.GetValueOrDefault(plan.Stages[plan.FarmStage].CalibrationKey);
        return Derivation.Computed(
            $"{plan.Name}: {plan.Stages[plan.FarmStage].Name} finished",
            $"{model.Clock.Text(scope.Finish[plan.FarmStage])} (P10 {model.Clock.Text(outcome.FarmFinish.P10)}, P90 {model.Clock.Text(outcome.FarmFinish.P90)})",
            "each day's frames as they arrive, through the farm's windows: work ÷ (Σ speed × availability), corrected by the event simulation",
            $"{Numbers.Three(scope.Busy[plan.FarmStage] / 3600)} reference node-hours; last material {model.Clock.Text(scope.Ready[^1])}",
            Ours,
            [
                .. model.Study.Jobs.Where(j => j.Kind == plan.FarmKind).Select(SecondsPerFrame),
                Derivation.Of(brief.Input("farm.failures")),
                Derivation.Of(brief.Input("farm.available")),
                Derivation.Fact("nodes", string.Join(", ", brief.Farm.Nodes.Select(n => $"{n.Count} {n.Name}")), "the brief"),
                Derivation.Fact("simulated against fluid", calibration is null ? "not calibrated" : $"{Numbers.Three(calibration.DisagreementPercent)} % of the time, {calibration.Replications} replications", "the farm service"),
            ]);
    }

    private Derivation SecondsPerFrame(JobFacts job) => new(
        $"seconds per frame, {job.Kind} {job.Mode}".TrimEnd(),
        $"{Numbers.Three(job.SecondsPerFrame)} s on the reference node, log-sd {Numbers.Three(job.LogDeviation)}",
        string.Empty,
        string.Empty,
        job.Invented && !model.Study.Model.Invented ? "the invented demonstration rows" : model.Study.Model.Source,
        job.Invented ? Known.Invented : Known.Measured,
        []);

    private Derivation NodeHours(PipelinePlan plan, PipelineOutcome outcome)
    {
        double perNode = plan.NodesPerSpeed(scope);
        int[] stages = [.. Enumerable.Range(0, plan.Stages.Length).Where(i => plan.Stages[i].IsFarm)];
        return Derivation.Computed(
            $"{plan.Name}: node-hours",
            $"{Numbers.Three(stages.Sum(i => scope.Busy[i]) / 3600 * perNode)} (P10 {Numbers.Three(outcome.NodeHours.P10)}, P90 {Numbers.Three(outcome.NodeHours.P90)})",
            "Σ over farm stages of frames × (seconds per frame + overhead ÷ segment × mean speed) ÷ (1 − failures), in reference seconds × nodes ÷ Σ speed",
            string.Join(" + ", stages.Select(i => Numbers.Three(scope.Busy[i] / 3600 * perNode))),
            Ours,
            [.. stages.Select(i => Derivation.Fact(plan.Stages[i].Name, $"{Numbers.Three(scope.Busy[i] / 3600 * perNode)} node-hours", Ours))]);
    }

    private Derivation Peak(PipelinePlan plan, int tier)
    {
        PipelineOutcome outcome = comparison.Of(plan.Name);
        PipelineResult result = new();
        plan.Compute(scope, result);
        Generation[] generations = [.. plan.Generations.Where(g => g.Tier == tier)];
        Outcomes.Range range = tier == 0 ? outcome.OnlinePeak : outcome.NearlinePeak;
        Tier means = tier == 0 ? brief.Storage.Online : brief.Storage.Nearline;
        return Derivation.Computed(
            $"{plan.Name}: {(tier == 0 ? "online" : "nearline")} peak",
            $"{Numbers.Size(tier == 0 ? result.OnlinePeak : result.NearlinePeak)} (P10 {Numbers.Size(range.P10)}, P90 {Numbers.Size(range.P90)})",
            "highest point of the sum of generations, each growing evenly while its stage runs and alive until a named human deletes it",
            generations.Length == 0 ? "nothing" : string.Join(" + ", generations.Select(g => Numbers.Size(g.Bytes(scope)))),
            Ours,
            [
                .. generations.Select(g => Derivation.Fact(g.Name, Numbers.Size(g.Bytes(scope)), $"written by '{plan.Stages[g.Stage].Name}', paid by {g.Payer}")),
                Derivation.Fact("usable", means.Capacity is { } size ? $"{Numbers.Size(size.Bytes)} ÷ {Numbers.Three(means.Redundancy)} × (1 − {Numbers.Three(means.Free)}) = {Numbers.Size(means.UsableBytes)}" : "not bounded", "the brief"),
            ]);
    }

    private Derivation Delivery(PipelinePlan plan, PipelineOutcome outcome)
    {
        List<int> chain = [];
        for (int stage = plan.Stages.Length - 1; ;)
        {
            chain.Insert(0, stage);
            int[] after = plan.Stages[stage].After;
            if (after.Length == 0 || (plan.Stages[stage] is EditStage && scope.LockDecides))
            {
                break;
            }

            stage = after.MaxBy(a => scope.Finish[a]);
        }

        return Derivation.Computed(
            $"{plan.Name}: accepted delivery",
            $"{model.Clock.Text(scope.Finish[plan.Stages.Length - 1])} (P10 {model.Clock.Text(outcome.Delivery.P10)}, P50 {model.Clock.Text(outcome.Delivery.P50)}, P90 {model.Clock.Text(outcome.Delivery.P90)})",
            "the chain of stages that set it, each walked through its calendar",
            string.Join(" → ", chain.Select(i => plan.Stages[i].Name)),
            Ours,
            [.. chain.Select(i => Derivation.Computed(plan.Stages[i].Name, model.Clock.Text(scope.Finish[i]), string.Empty, string.Empty, $"by {plan.Stages[i].Resource}", [.. StageInputs(plan.Stages[i].Name)]))]);
    }

    private Derivation[] StageInputs(string stage) => stage switch
    {
        "edit to lock" => [Derivation.Fact("lock date", brief.Edit.Lock.ToString("uuuu-MM-dd", null), "the brief"), Derivation.Of(brief.Input("edit.lock_slip")), Derivation.Of(brief.Input("edit.after_material"))],
        "sync and logging" => [Derivation.Of(brief.Input("finish.sync"))],
        "conform" => [Derivation.Of(brief.Input("edit.events_per_minute")), Derivation.Of(brief.Input("finish.clean_events")), Derivation.Of(brief.Input("finish.problem_event")), Derivation.Of(brief.Input("finish.problem_share"))],
        "grade" => [Derivation.Of(brief.Input("finish.grade"))],
        "quality check" => [Derivation.Of(brief.Input("finish.quality_check"))],
        "review and re-delivery" => [Derivation.Of(brief.Input("deliver.review_rounds")), Derivation.Of(brief.Input("deliver.review"))],
        _ => [],
    };

    private Derivation OnTime(PipelinePlan plan, PipelineOutcome outcome) => Derivation.Computed(
        $"{plan.Name}: P(on time), if nothing outside this list happens",
        $"{Numbers.Percent(outcome.OnTime.Share, outcome.OnTime.StandardError)} with lock slip, {Numbers.Percent(outcome.OnTimeIfLockHolds.Share, outcome.OnTimeIfLockHolds.StandardError)} if the lock holds",
        "share of draws whose accepted delivery is no later than due",
        $"{Math.Round(outcome.OnTime.Share * comparison.Evaluation.Draws)} of {comparison.Evaluation.Draws} draws by {model.Clock.Text(model.Due)}",
        Ours,
        [.. brief.Events.Select(e => Derivation.Fact(e.Name, $"{Numbers.Percent(e.Probability)}, delays {Amounts.Text(e.Delay.Likely, "d")}", "the brief"))]);

    private Derivation Cost(PipelinePlan plan, PipelineOutcome outcome) => Derivation.Computed(
        $"{plan.Name}: cost",
        $"{Numbers.Money(outcome.Cost.P50, brief.Currency, outcome.Costs.Any(c => c.PriceInvented))} P50 (P10 {Numbers.Three(outcome.Cost.P10)}, P90 {Numbers.Three(outcome.Cost.P90)})",
        "Σ of amounts × prices",
        string.Join(" + ", outcome.Costs.Select(c => Numbers.Three(c.Money.P50))),
        Ours,
        [.. outcome.Costs.Select((c, i) => Derivation.Computed(
            c.Name,
            Numbers.Money(c.Money.P50, brief.Currency, c.PriceInvented),
            "amount × price",
            $"{Numbers.Three(c.Amount.P50)} {c.Unit}",
            $"paid by {c.Payer}",
            plan.Costs[i].Price >= 0 ? [Derivation.Of(model.Inputs.Inputs[plan.Costs[i].Price])] : []))]);
}
