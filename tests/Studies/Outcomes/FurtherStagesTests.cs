using NodaTime;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Inputs;
using PostPipeline.Studies.Outcomes;
using PostPipeline.Studies.WhatIfs;
using Xunit;

namespace PostPipeline.Studies.Tests.Outcomes;

/// <summary>
/// Stages that a brief may ask for, each worked by hand: three cameras × 2.5 h on 25 equal days from Monday 2026-09-07, all
/// material where post works at 22:00, the lock on Monday 2027-03-01 at 18:00, people at work 09:00 to 18:00 on weekdays.
/// Inputs invented; the arithmetic is the check.
/// </summary>
public sealed class FurtherStagesTests
{
    private static readonly string Text = StudyFixtures.ThreeCameras
        .Replace("hours_per_day: 2.5 h", "hours_per_day: 2.5 h\n  day_spread: 0", StringComparison.Ordinal)
        .Replace("lock: 2027-03-01", "lock: 2027-03-01\n  lock_slip: 0 d\n  after_material: 10 d", StringComparison.Ordinal);

    private static StudyModel Model(string extra, string pipelines = "transcode", string deliver = "") => new(StudyFixtures.Prepared(
        $"{Text.Replace("raster: 3840x2160", $"raster: 3840x2160\n  {deliver}", StringComparison.Ordinal)}\npipelines: [{pipelines}]\n{extra}"));

    private static Evaluation Median(StudyModel model) => model.Evaluate(DrawSet.Median(model.Inputs), detail: true);

    private static (string Start, string Finish) Times(StudyModel model, Evaluation evaluation, string stage)
    {
        PipelineDraws draws = evaluation.Pipelines[0];
        int place = draws.Stages.ToList().IndexOf(stage);
        Assert.True(place >= 0, $"no stage '{stage}' among {string.Join(", ", draws.Stages)}");
        string Text(double seconds) => model.Clock.Local(seconds).ToString("uuuu-MM-dd HH:mm", null);
        return (Text(draws.StageStart[place][0]), Text(draws.StageFinish[place][0]));
    }

    [Fact]
    public void Brief_Silent_HasNoneOfThemAndSaysSo()
    {
        StudyModel model = Model(string.Empty);
        string[] stages = [.. Median(model).Pipelines[0].Stages];
        Assert.DoesNotContain(stages, s => s.Contains("viewing", StringComparison.Ordinal) || s.Contains("turnover", StringComparison.Ordinal) || s.Contains("effects", StringComparison.Ordinal) || s.Contains("upload", StringComparison.Ordinal));
        Assert.Equal(5, model.Study.Brief.LeftOut.Count);
        Assert.Equal(["archive beyond tapes"], Model("viewing:\nturnovers:\neffects:\n", deliver: "items: [{name: textless}]").Study.Brief.LeftOut.ToArray()[^1..]);
    }

    // 7.5 h a day × (0.2 + 0.3) = 3.75 person-hours: the last day's, there on Friday at 22:00, are done on Monday at 12:45. Copies
    // of a day are 7.5 h × 1 MB/s = 27 GB, which 100 Mb/s × 0.9 carry in 40 min.
    [Fact]
    public void Viewing_LastDay_IsLookedAtAndSentOnMonday()
    {
        StudyModel model = Model("viewing: {look: 0.2, copies: 0.3, people: 1, rate: 8 Mb/s, link: 100 Mb/s}");
        Evaluation evaluation = Median(model);
        Assert.Equal("2026-10-12 12:45", Times(model, evaluation, "look and viewing copies").Finish);
        Assert.Equal("2026-10-12 13:25", Times(model, evaluation, "send viewing copies").Finish);
        Assert.Equal(Median(Model(string.Empty)).Pipelines[0].Delivered, evaluation.Pipelines[0].Delivered);
    }

    // Two turnovers of 9 h fill two days from Tuesday; eight hours of hand-over follow: Thursday at 17:00.
    [Fact]
    public void Turnovers_AssistantsDoThemBeforeTheHandOver()
    {
        StudyModel model = Model("turnovers: {count: 2, hours: 9 h}");
        Evaluation evaluation = Median(model);
        Assert.Equal("2027-03-03 18:00", Times(model, evaluation, "turnovers to effects and sound").Finish);
        Assert.Equal("2027-03-04 17:00", Times(model, evaluation, "hand-over to finishing").Finish);
    }

    // Ten shots of 4 s at 24 fps with 12-frame handles: 1,200 frames of 53,084,160 B (half-float RGB at 4096×2160, OpenEXR) =
    // 63.70 GB, read at 2 GB/s in 32 s, 20 days before the lock; two versions of 5 days each.
    [Fact]
    public void Effects_PlatesBeforeTheLock_HoldTheGradeUp()
    {
        StudyModel model = Model("effects: {shots: 10, length: 4 s, handles: 12, versions: 2, version: 5 d, before_lock: 20 d}\nstorage: {nearline: {read: 2 GB/s}}");
        Evaluation evaluation = Median(model);
        Assert.Equal(("2027-02-09 18:00", "2027-02-09 18:00"), Times(model, evaluation, "pull effects plates"));
        Assert.Equal("2027-02-19 18:00", Times(model, evaluation, "effects versions").Finish);
        GenerationOutcome plates = Compare.Outcome(model, evaluation, 0).Generations.Single(g => g.Name == "effects plates");
        Assert.Equal(1200L * 53_084_160, plates.Bytes.P50);

        StudyModel late = Model("effects: {shots: 10, length: 4 s, handles: 12, versions: 2, version: 5 d}");
        Evaluation worked = Median(late);
        Assert.Equal("2027-03-11 18:00", Times(late, worked, "effects versions").Finish);
        Assert.Equal("2027-03-11 18:00", Times(late, worked, "grade").Start);
    }

    // An item of 81 GB goes out over 200 Mb/s × 0.9 = 22.5 MB/s in an hour, after its check, one after the other.
    [Fact]
    public void Items_EachIsRenderedCheckedAndUploaded()
    {
        StudyModel model = Model("finish: {quality_check: 1}\n", deliver: "link: 200 Mb/s\n  items: [{name: wide range, render: 20 %, check: 1, size: 81 GB}, {name: textless, render: 10 %, check: 0, size: 81 GB}]");
        Evaluation evaluation = Median(model);
        PipelineDraws draws = evaluation.Pipelines[0];
        Assert.Equal(3600, Lasts(draws, "upload: wide range"));
        Assert.Equal(3600, Lasts(draws, "upload: textless"));
        Assert.Equal(draws.StageFinish[Place(draws, "check: wide range")][0], draws.StageStart[Place(draws, "upload: wide range")][0]);
        Assert.True(draws.StageStart[Place(draws, "render: textless")][0] >= draws.StageFinish[Place(draws, "render: wide range")][0]);

        // The master and one item are checked an hour a finished hour: 110 min twice.
        CostLine checking = Compare.Outcome(model, evaluation, 0).Costs.Single(c => c.Name == "quality checking");
        Assert.Equal(2 * 110 / 60.0, checking.Amount.P50, 1e-9);
        Assert.True(draws.Delivered[0] >= draws.StageFinish[Place(draws, "upload: textless")][0]);
    }

    // A round of 10 days with chance 0.5 and a second with 0.4 after it: 0.5 have none, 0.3 one, 0.2 two.
    [Fact]
    public void Rounds_EachNeedsTheOneBefore()
    {
        StudyModel model = Model("finish: {grade: 10 h, quality_check: 1}\nfarm: {available: 1}", deliver: "rounds: [{chance: 0.5, days: 10 d, render: 0, check: 0}, {chance: 0.4, days: 10 d, render: 0, check: 0}]");
        const int Draws = 20_000;
        Evaluation evaluation = model.Evaluate(DrawSet.Sample(model.Inputs, Draws, 5), detail: true);
        PipelineDraws draws = evaluation.Pipelines[0];
        int second = Place(draws, "review, round 2");
        double Rounds(int d) => (draws.Delivered[d] - draws.StageStart[Place(draws, "review, round 1")][d]) / 864_000;
        double[] counts = [.. Enumerable.Range(0, Draws).Select(d => Math.Round(Rounds(d)))];

        // Four standard errors of a share at 20,000 draws are 0.014 at most.
        Assert.Equal(0.5, counts.Count(c => c == 0) / (double)Draws, 0.014);
        Assert.Equal(0.3, counts.Count(c => c == 1) / (double)Draws, 0.014);
        Assert.Equal(0.2, counts.Count(c => c == 2) / (double)Draws, 0.014);
        Assert.All(Enumerable.Range(0, Draws).Where(d => counts[d] == 0), d => Assert.Equal(draws.StageStart[second][d], draws.StageFinish[second][d]));
    }

    [Fact]
    public void Rounds_AndReviewRounds_AreRefusedTogether()
    {
        BriefException error = Assert.Throws<BriefException>(() => Model(string.Empty, deliver: "review_rounds: 2\n  rounds: [{chance: 0.5}]"));
        Assert.Equal("deliver.review_rounds", Assert.Single(error.Problems, p => p.Key.StartsWith("deliver.review", StringComparison.Ordinal)).Key);
    }

    // What the farm has not made cannot be sent: with one slow node the last proxies go out after they are made.
    [Fact]
    public void ProxyRemote_SendsADayOnceItsProxiesAreMade()
    {
        StudyModel model = Model("farm: {nodes: [{name: node, count: 1}]}\nseats: {wan: 1 Gb/s}", "proxy-remote");
        PipelineDraws draws = Median(model).Pipelines[0];
        Assert.True(draws.StageFinish[Place(draws, "make proxies")][0] > draws.StageFinish[Place(draws, "shoot and offload")][0]);
        Assert.True(draws.StageFinish[Place(draws, "send proxies to the remote editor")][0] > draws.StageFinish[Place(draws, "make proxies")][0]);
    }

    // Other work takes half of an always open farm: the final render lasts twice as long, and costs the same node-hours.
    [Fact]
    public void OtherWork_HalfTheFarm_DoublesTheRender()
    {
        PipelineDraws Render(string share)
        {
            StudyModel model = Model($"farm: {{open: \"00:00\", close: \"00:00\", available: 1, other_work: {share}}}");
            return Median(model).Pipelines[0];
        }

        PipelineDraws alone = Render("0 %");
        PipelineDraws shared = Render("50 %");
        Assert.Equal(2 * Lasts(alone, "final render"), Lasts(shared, "final render"), 2.0);
        Assert.Equal(alone.NodeHours[0], shared.NodeHours[0], 1e-9);
    }

    [Fact]
    public void Cards_MoreNeededThanThereAre_FailAGateThatOneMoreOpens()
    {
        // The fixture's day needs three cards a camera, spares included: nine. Eight are one short; one more a camera are enough.
        StudyModel eight = Model("cards: [{name: card, count: 8}]");
        Assert.Contains(Compare.Run(eight, 30).Of("transcode").Gates, g => g is { Name: "cards", State: GateState.Fails });
        Assert.Contains("cards", Buys.Of(eight, 30).Single(p => p is { What: "one more card for each camera", Pipeline: "transcode" }).Opens);
        Assert.Contains(Compare.Run(Model("cards: [{name: card, count: 9}]"), 30).Of("transcode").Gates, g => g is { Name: "cards", State: GateState.Passes });
        Assert.DoesNotContain(Compare.Run(Model(string.Empty), 30).Of("transcode").Gates, g => g.Name == "cards");
    }

    // Call at 08:00. With the last card done at 22:00 ten hours are left of the eleven asked for, with one done at 20:00 twelve.
    [Fact]
    public void OffloadStation_OneMore_OpensTheRestGate()
    {
        PreparedStudy study = StudyFixtures.Prepared($"{Text}\npipelines: [transcode]\n");
        OffloadFacts late = study.Offload with { EndSeconds = [[.. study.Offload.EndSeconds[0].Select(e => e.Select(s => s + (2 * 3600)).ToArray())]] };
        StudyModel model = new(study with { Offload = late, OffloadWithOneMoreStation = study.Offload });
        Assert.Contains(Compare.Run(model, 30).Of("transcode").Gates, g => g is { Name: "rest", State: GateState.Fails });
        Purchase purchase = Buys.Of(model, 30).Single(p => p.What == "one more offload station a unit");
        Assert.Equal(["rest"], purchase.Opens);
        Assert.Equal(0, purchase.SecondsSaved);
    }

    private static int Place(PipelineDraws draws, string stage) => draws.Stages.ToList().IndexOf(stage);

    private static double Lasts(PipelineDraws draws, string stage) => draws.StageFinish[Place(draws, stage)][0] - draws.StageStart[Place(draws, stage)][0];
}
