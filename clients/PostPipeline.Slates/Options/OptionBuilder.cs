using NodaTime;
using PostPipeline.Slates.Files;
using PostPipeline.Studies;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Inputs;
using PostPipeline.Studies.Outcomes;
using PostPipeline.Studies.Stages;

namespace PostPipeline.Slates.Options;

/// <summary>Turns a project's evaluation into the pipelines that it may take on the slate.</summary>
internal sealed class OptionBuilder
{
    private readonly SlateEntry entry;
    private readonly StudyModel model;
    private readonly DrawSet set;
    private readonly Evaluation evaluation;
    private readonly double offset;
    private readonly (int Place, Change Change)[] changes;

    public OptionBuilder(Slate slate, SlateEntry entry, StudyModel model, DrawSet set, Evaluation evaluation, IReadOnlyList<Change> changes)
    {
        (this.entry, this.model, this.set, this.evaluation) = (entry, model, set, evaluation);
        this.changes = [.. changes.Select(c => (model.Inputs.PlaceOf(c.Input), c))];
        Instant slateStarts = slate.Zone.AtStartOfDay(slate.Starts).ToInstant();
        offset = (model.Study.Brief.Zone.AtStartOfDay(model.Clock.FirstDay).ToInstant() - slateStarts).TotalSeconds;
    }

    /// <summary>The pipelines that the project may take.</summary>
    /// <param name="kept">Pipelines that stay, whatever the gates say: what happens to a project on its way does not undo how it is made.</param>
    public EvaluatedProject Build(IReadOnlyCollection<string>? kept = null)
    {
        List<EvaluatedOption> options = [];
        List<string> leftOut = [];
        for (int place = 0; place < model.Plans.Count; place++)
        {
            PipelineOutcome outcome = Compare.Outcome(model, evaluation, place);

            // The slate decides on dates, shared tiers and when who works; what is left are the pipeline's own gates.
            Gate[] own = [.. outcome.Gates.Where(g => g.Name is not ("date" or "online capacity" or "nearline capacity" or "rest"))];
            string[] fails = [.. own.Where(g => g.State == GateState.Fails).Select(g => $"{g.Name} fails: {g.Says}")];
            string[] unknown = [.. own.Where(g => g.State == GateState.Unknown).Select(g => g.Name)];
            bool stays = kept?.Contains(outcome.Name) == true;
            if (!stays && (fails.Length > 0 || (unknown.Length > 0 && !entry.PipelinesGiven)))
            {
                leftOut.Add($"{outcome.Name}: {(fails.Length > 0 ? string.Join("; ", fails) : $"not proven ({string.Join(", ", unknown)})")}");
                continue;
            }

            options.Add(Option(place, outcome, unknown) with { Fails = fails });
        }

        return options.Count > 0
            ? new(entry, model, [.. options.OrderBy(o => o.Outcome.Cost.P50)], leftOut)
            : throw new BriefException([new(entry.Name, 0, 0, "pipelines", string.Join(", ", entry.Pipelines), $"no pipeline can be taken: {string.Join(" | ", leftOut)}")]);
    }

    private EvaluatedOption Option(int place, PipelineOutcome outcome, string[] unknown)
    {
        PipelinePlan plan = model.Plans[place];
        PipelineDraws draws = evaluation.Pipelines[place];

        // Viewing copies have people and links of their own, and nothing waits for them.
        int[] places = new int[plan.Stages.Length];
        List<StageDraws> stages = [];
        for (int i = 0; i < plan.Stages.Length; i++)
        {
            Stage stage = plan.Stages[i];
            bool beside = stage.Resource == "viewing" || (i > 0 && stage.After.Length > 0 && stage.After.All(a => places[a] < 0));
            places[i] = beside ? -1 : stages.Count;
            if (!beside)
            {
                stages.Add(StageOf(plan, draws, i, [.. stage.After.Select(a => places[a]).Where(a => a >= 0)]));
            }
        }

        double keep = model.Inputs.Inputs[model.Inputs.PlaceOf("storage.keep")].Likely;
        return new(
            outcome,
            stages,
            [.. plan.Generations.Select((g, i) => new GenerationDraws(
                g.Name,
                g.Tier == 0 ? "online" : "nearline",
                Math.Max(0, places[g.Stage]),
                g.GoneAfter >= 0 ? Math.Max(0, places[g.GoneAfter]) : stages.Count - 1,
                g.GoneAfter >= 0 ? 0 : keep,
                draws.Sizes[i]))],
            unknown);
    }

    private StageDraws StageOf(PipelinePlan plan, PipelineDraws draws, int place, int[] after)
    {
        Stage stage = plan.Stages[place];
        int count = evaluation.Draws;
        double[] start = draws.StageStart[place];
        double[] finish = draws.StageFinish[place];
        StageKind kind = stage switch
        {
            ShootStage => StageKind.Shoot,
            EditStage => StageKind.Edits,
            StreamStage => StageKind.Streams,
            WorkStage => StageKind.Works,
            _ => StageKind.Lasts,
        };
        int available = model.Inputs.PlaceOf("farm.available");
        int slip = model.Inputs.PlaceOf("edit.lock_slip");
        int days = model.Inputs.PlaceOf("edit.after_material");
        long locked = model.Clock.EndOf(model.Study.Brief.Edit.Lock);
        IReadOnlyList<double> ratios = model.Study.Calibrations.TryGetValue(stage.CalibrationKey, out FarmCalibration? calibration) ? calibration.Ratios : [];
        double Work(int d)
        {
            double work = draws.StageWork[place][d];
            if (stage.Resource == "link")
            {
                return work;
            }

            // The whole farm's simulated time over its fluid time, for work that comes at once.
            double ratio = kind == StageKind.Works && ratios.Count > 0 ? ratios[(int)(set.Luck(d)[0] * ratios.Count)] : 1;
            return work / 3600 * (stage.IsFarm ? ratio / Input(d, available) : 1);
        }

        double Lasts(int d) => kind switch
        {
            StageKind.Edits => (Input(d, days) * Calendar.Day) + draws.StageDelay[place][d],
            StageKind.Shoot => finish[d] - start[d],
            StageKind.Streams => 0,
            _ when stage.Resource == "link" || kind == StageKind.Lasts => Math.Min(Calendar.Never, finish[d] - start[d]) + draws.StageDelay[place][d],
            _ => draws.StageDelay[place][d],
        };
        double[] All(Func<int, double> value) => [.. Enumerable.Range(0, count).Select(value)];
        return new(stage.Name, stage.Resource, kind, after)
        {
            Work = All(Work),
            First = All(d => start[d] + offset),
            Last = All(d => draws.StageFinish[0][d] + offset),
            Lasts = All(Lasts),
            Lock = kind == StageKind.Edits ? All(d => model.Clock.Later(locked, Input(d, slip)) + offset) : [],
            ClassSpeeds = stage.IsFarm ? model.Study.Jobs.First(j => j.Kind == (place == plan.FarmStage ? plan.FarmKind : plan.RenderKind)).ClassSpeeds : [],
        };
    }

    private double Input(int draw, int place) => changes.Where(c => c.Place == place).Aggregate(set.Row(draw)[place], (value, c) => c.Change.Apply(value));
}
