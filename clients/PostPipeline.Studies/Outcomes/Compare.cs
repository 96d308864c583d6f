using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Inputs;
using PostPipeline.Studies.Printing;
using PostPipeline.Studies.Stages;

namespace PostPipeline.Studies.Outcomes;

/// <summary>The comparison of pipelines for one brief.</summary>
public static class Compare
{
    /// <summary>Draws behind a comparison where nothing else is asked for.</summary>
    public const int UsualDraws = 500;

    /// <summary>Compares the brief's pipelines on the same draws.</summary>
    /// <param name="model">The model.</param>
    /// <param name="draws">How many draws.</param>
    /// <param name="threads">Threads to use; the numbers do not hang on it.</param>
    /// <param name="cancellation">Ends the computation.</param>
    public static Comparison Run(StudyModel model, int draws = UsualDraws, int threads = 1, CancellationToken cancellation = default) =>
        Complete(Quick(model, draws, [], threads, cancellation), threads, cancellation);

    /// <summary>
    /// The comparison under some changes without what takes a hundred evaluations more: no binding limits, no last
    /// responsible dates. <see cref="Complete"/> adds them.
    /// </summary>
    /// <param name="model">The model.</param>
    /// <param name="draws">How many draws.</param>
    /// <param name="changes">What-if changes to inputs, in order.</param>
    /// <param name="threads">Threads to use; the numbers do not hang on it.</param>
    /// <param name="cancellation">Ends the computation.</param>
    public static Comparison Quick(StudyModel model, int draws, IReadOnlyList<Change> changes, int threads = 1, CancellationToken cancellation = default)
    {
        Brief brief = model.Study.Brief;
        DrawSet set = DrawSet.Sample(model.Inputs, draws, brief.Seed, threads);
        Evaluation evaluation = model.Evaluate(set, changes, threads, detail: true, cancellation);
        PipelineOutcome[] outcomes = [.. evaluation.Pipelines.Select((_, i) => Outcome(model, evaluation, i))];
        (double end, int day) = LatestOffload(model.Study);
        return new()
        {
            Model = model,
            Evaluation = evaluation,
            Draws = set,
            Changes = changes,
            Pipelines = outcomes,
            BytesPerDay = BytesPerDay(model.Study),
            Bytes = Range.Of(evaluation.Bytes),
            LatestOffloadEnd = end,
            LatestOffloadDay = day,
            Findings = ShootFindings.Of(model.Study),
            Margins = MarginLedger.Of(brief).Margins,
            Preferred = Preference.Of(brief, outcomes)?.Name,
            Why = Preference.Why(brief, outcomes),
            Pairs = Pairs(evaluation),
        };
    }

    /// <summary>Adds to a comparison what binds now, what would next, and the last responsible dates.</summary>
    /// <param name="comparison">From <see cref="Quick"/>.</param>
    /// <param name="threads">Threads to use; the numbers do not hang on it.</param>
    /// <param name="cancellation">Ends the computation.</param>
    public static Comparison Complete(Comparison comparison, int threads = 1, CancellationToken cancellation = default)
    {
        IReadOnlyList<(LimitMove? Binding, LimitMove? Next)> limits = new Limits(comparison.Model, comparison.Draws, comparison.Changes, threads).Find(comparison.Pipelines, cancellation);
        LatestStart latest = new(comparison.Model, comparison.Draws, comparison.Changes);
        int pipelines = comparison.Pipelines.Count;
        (int? Shoot, int? Lock, double? Farm)[] dates = new (int?, int?, double?)[pipelines];
        SideBySide.Each(3 * pipelines, threads, question =>
        {
            int i = question % pipelines;
            switch (question / pipelines)
            {
                case 0:
                    dates[i].Lock = latest.LockDays(i, cancellation);
                    break;
                case 1:
                    dates[i].Shoot = latest.ShootDays(i, cancellation);
                    break;
                default:
                    dates[i].Farm = comparison.Pipelines[i].HasFarmStage ? latest.FarmStart(i, cancellation) : null;
                    break;
            }
        }, cancellation);
        return comparison with
        {
            Pipelines = [.. comparison.Pipelines.Select((o, i) => o with
            {
                Binding = limits[i].Binding,
                Next = limits[i].Next,
                LatestShootStartDays = dates[i].Shoot,
                LatestLockDays = dates[i].Lock,
                LatestFarmStart = dates[i].Farm,
            })],
        };
    }

    /// <summary>One pipeline's outcome from its draws, without limits and last responsible dates.</summary>
    /// <param name="model">The model.</param>
    /// <param name="evaluation">An evaluation with detail.</param>
    /// <param name="place">Place of the pipeline.</param>
    public static PipelineOutcome Outcome(StudyModel model, Evaluation evaluation, int place)
    {
        PipelineDraws draws = evaluation.Pipelines[place];
        PipelinePlan plan = model.Plans[place];
        Probability onTime = Probability.AtMost(draws.Delivered, evaluation.Due);
        return new()
        {
            Name = draws.Name,
            Delivery = Range.Of(draws.Delivered),
            DeliveryIfLockHolds = Range.Of(draws.DeliveredIfLockHolds),
            OnTime = onTime,
            OnTimeIfLockHolds = Probability.AtMost(draws.DeliveredIfLockHolds, evaluation.Due),
            Locked = Range.Of(draws.Locked),
            FarmFinish = Range.Of(draws.FarmFinish),
            HasFarmStage = plan.FarmStage >= 0,
            OnlinePeak = Range.Of(draws.OnlinePeak),
            NearlinePeak = Range.Of(draws.NearlinePeak),
            Cost = Range.Of(draws.Cost),
            NodeHours = Range.Of(draws.NodeHours),
            PeopleHours = Range.Of(draws.PeopleHours),
            Stages = [.. draws.StageStart.Select((start, i) => new StageOutcome(
                plan.Stages[i].Name, plan.Stages[i].Resource, Range.Of(start), Range.Of(draws.StageFinish[i]), (double)draws.Critical[i] / evaluation.Draws))],
            Costs = [.. draws.Costs.Select((money, i) => new CostLine(
                plan.Costs[i].Name, plan.Costs[i].Payer, Range.Of(draws.Amounts[i]), plan.Costs[i].Unit, Range.Of(money),
                plan.Costs[i].Price >= 0 && model.Inputs.Inputs[plan.Costs[i].Price].Known == Known.Invented))],
            Payers = [.. Payers(model, plan, draws)],
            CostMean = draws.Cost.Average(),
            Generations = [.. draws.Sizes.Select((bytes, i) => new GenerationOutcome(
                plan.Generations[i].Name, plan.Generations[i].Tier == 0 ? "online" : "nearline", plan.Generations[i].Payer, Range.Of(bytes)))],
            Gates = new GateBuilder(model).Gates(evaluation, draws, onTime),
            Quality = QualityBuilder.Rows(model.Study, draws.Name),
            Findings = Findings(model, draws.Name),
        };
    }

    private static IEnumerable<PayerLine> Payers(StudyModel model, PipelinePlan plan, PipelineDraws draws)
    {
        foreach (IGrouping<string, (CostItem Item, double[] Money)> payer in plan.Costs.Zip(draws.Costs).GroupBy(c => c.First.Payer))
        {
            double[] sum = new double[draws.Cost.Length];
            foreach ((_, double[] money) in payer)
            {
                for (int d = 0; d < sum.Length; d++)
                {
                    sum[d] += money[d];
                }
            }

            yield return new(payer.Key, Range.Of(sum), sum.Average(), payer.Any(c => c.Item.Price >= 0 && model.Inputs.Inputs[c.Item.Price].Known == Known.Invented));
        }
    }

    private static List<Finding> Findings(StudyModel model, string name)
    {
        List<Finding> findings = [];
        if (name.StartsWith("proxy", StringComparison.Ordinal)
            && model.Study.Rehearsals.TryGetValue(PipelineBuilder.ProxySource(model.Study.Brief, name), out RehearsalFacts? rehearsal))
        {
            double minutes = model.Study.Brief.Input("finish.problem_event").Likely;
            findings.AddRange(rehearsal.Findings.Select(f => new Finding(
                f.Name,
                $"{(f.Fails ? "would break" : "not known to work")}{(f.Camera.Length > 0 ? $", camera {f.Camera}" : string.Empty)}: {f.Description} Exposure: {Numbers.Exact(f.Events)} events × {Numbers.Three(minutes)} min.",
                f.Remedy)));
        }

        foreach (FarmCalibration calibration in model.Study.Calibrations.Values.Where(c => c.Stage.StartsWith($"{name}:", StringComparison.Ordinal)))
        {
            findings.Add(new(
                "farm model",
                $"{calibration.Stage}: the simulation of {Numbers.Exact(calibration.Tasks)} tasks ({Numbers.Exact(calibration.Replications)} replications) and the fluid model differ by {Numbers.Three(calibration.DisagreementPercent)} % of the time; the draws are corrected by it",
                string.Empty));
        }

        if (!model.Study.Model.Invented && model.Study.Jobs.Any(j => j.Invented))
        {
            IEnumerable<string> unmeasured = model.Study.Jobs.Where(j => j.Invented).Select(j => $"{j.Kind} {j.Mode}: {j.Notes[0]}".Replace(" :", ":", StringComparison.Ordinal));
            findings.Add(new("render times", $"your own rows do not answer {string.Join("; ", unmeasured)}: these rest on the invented rows", "measure these jobs as well, three repeats each, and add the rows"));
        }

        if (model.Study.Jobs.Any(j => j.OutsideMeasured))
        {
            findings.Add(new("render times", $"seconds per frame rest on {model.Study.Model.Source}: {model.Study.Model.ValidatedDomain}", "measure twenty jobs of your own and bring them as rows"));
        }

        return findings;
    }

    private static (double, double) BytesPerDay(PreparedStudy study)
    {
        double[] days = [.. Enumerable.Range(0, study.Brief.Shoot.Days).Select(d => study.Strands.Sum(s => (double)s.Bytes[d]))];
        return (days.Average(), days.Max());
    }

    private static (double End, int Day) LatestOffload(PreparedStudy study)
    {
        (double end, int at) = (0, 0);
        for (int unit = 0; unit < study.Brief.Shoot.Units.Count; unit++)
        {
            ShootUnit plan = study.Brief.Shoot.Units[unit];
            for (int day = plan.FirstDay - 1; day < plan.FirstDay - 1 + plan.Days; day++)
            {
                double[] ends = study.Offload.EndSeconds[unit][day];
                if (!double.IsNaN(ends[0]) && study.Offload.EndAt(unit, day, 1) is double latest && latest > end)
                {
                    (end, at) = (latest, day);
                }
            }
        }

        return (end, at);
    }

    private static List<PairOutcome> Pairs(Evaluation evaluation)
    {
        List<PairOutcome> pairs = [];
        for (int a = 0; a < evaluation.Pipelines.Count; a++)
        {
            for (int b = a + 1; b < evaluation.Pipelines.Count; b++)
            {
                PipelineDraws first = evaluation.Pipelines[a];
                PipelineDraws second = evaluation.Pipelines[b];
                pairs.Add(new(first.Name, second.Name, Probability.Below(first.Delivered, second.Delivered), Probability.Same(first.Delivered, second.Delivered), Probability.Below(first.Cost, second.Cost)));
            }
        }

        return pairs;
    }
}
