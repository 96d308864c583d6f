using PostPipeline.Studies.Inputs;
using PostPipeline.Studies.Outcomes;
using PostPipeline.Studies.Printing;
using Xunit;

namespace PostPipeline.Studies.Tests.Outcomes;

/// <summary>Properties of composition and draws.</summary>
public sealed class CompositionTests
{
    private static readonly string[] Every = ["native", "transcode", "proxy", "native-cached", "transcode-selects", "transcode-off-speed", "proxy-in-post", "proxy-in-camera", "proxy-remote"];

    private static StudyModel Model(string extra = "", double secondsPerFrame = 0.1) =>
        new(StudyFixtures.Prepared($"{StudyFixtures.ThreeCameras}\npipelines: [{string.Join(", ", Every)}]\n{extra}", secondsPerFrame));

    private static Evaluation Evaluate(StudyModel model, IReadOnlyList<Change>? changes = null, int threads = 1, int draws = 200) =>
        model.Evaluate(DrawSet.Sample(model.Inputs, draws, 7, threads), changes, threads);

    [Fact]
    public void Evaluate_OneAndTwoThreads_GiveTheSameNumbers()
    {
        StudyModel model = Model("events: [{name: rain, probability: 0.3, delay: 2 d, hits: shoot}]");
        Evaluation one = Evaluate(model, threads: 1);
        Evaluation two = Evaluate(model, threads: 2);
        foreach ((PipelineDraws a, PipelineDraws b) in one.Pipelines.Zip(two.Pipelines))
        {
            Assert.Equal(a.Delivered, b.Delivered);
            Assert.Equal(a.Cost, b.Cost);
            Assert.Equal(a.OnlinePeak, b.OnlinePeak);
            Assert.Equal(a.Critical, b.Critical);
        }

        string json = ResultJson.Of(Compare.Run(model, 50, 1)).ToJsonString();
        Assert.Equal(json, ResultJson.Of(Compare.Run(model, 50, 2)).ToJsonString());
    }

    [Fact]
    public void Compare_EveryPipeline_HasOrderedRangesAndAllGates()
    {
        Comparison comparison = Compare.Run(Model(), 100);
        Assert.All(comparison.Pipelines, p =>
        {
            Assert.True(p.Delivery.P10 <= p.Delivery.P50 && p.Delivery.P50 <= p.Delivery.P90);
            Assert.True(p.DeliveryIfLockHolds.P90 <= p.Delivery.P90);
            Assert.True(p.OnTimeIfLockHolds.Share >= p.OnTime.Share);
            Assert.Equal(9, p.Gates.Count);
            Assert.True(p.Cost.P50 > 0 && p.OnlinePeak.P50 > 0);
            Assert.All(p.Stages, s => Assert.True(s.Start.P50 <= s.Finish.P50));
            Assert.Equal(1.0, p.Stages[^1].CriticalShare);
        });
        Assert.Equal(comparison.Margins.Count, comparison.Margins.Select(m => m.Name).Distinct().Count());
    }

    [Fact]
    public void Evaluate_MoreNodes_AreNeverLater()
    {
        StudyModel model = Model(secondsPerFrame: 1.5);
        Evaluation few = Evaluate(model);
        Evaluation more = Evaluate(model, [Change.Plus("farm.nodes.node", 1)]);
        for (int p = 0; p < Every.Length; p++)
        {
            Assert.All(few.Pipelines[p].Delivered.Zip(more.Pipelines[p].Delivered), d => Assert.True(d.Second <= d.First));
        }

        // With 25 days of three cameras at 1.5 s a frame, four nodes are what transcode waits for.
        Assert.True(Outcomes_Range(more, 1) < Outcomes_Range(few, 1));
    }

    private static double Outcomes_Range(Evaluation evaluation, int pipeline) => PostPipeline.Studies.Outcomes.Range.Of(evaluation.Pipelines[pipeline].FarmFinish).P50;

    [Fact]
    public void Evaluate_TwiceTheHours_DoublesTheConversionAndNotTheRender()
    {
        StudyModel model = new(StudyFixtures.Prepared(StudyFixtures.ThreeCameras + "\npipelines: [transcode]\n"));
        double[] Node(double factor) => Evaluate(model, [Change.Scale("shoot.hours_per_day", factor)], draws: 20).Pipelines[0].NodeHours;
        double[] none = Node(0);
        double[] once = Node(1);
        double[] twice = Node(2);
        for (int i = 0; i < once.Length; i++)
        {
            Assert.True(none[i] > 0);
            Assert.Equal(2 * (once[i] - none[i]), twice[i] - none[i], 1e-6);
        }
    }

    [Fact]
    public void Evaluate_NoNodes_IsNeverDelivered()
    {
        Evaluation none = Evaluate(Model(), [Change.Fix("farm.nodes.node", 0)], draws: 20);
        Assert.All(none.Pipelines, p => Assert.All(p.Delivered, d => Assert.True(d > none.Model.Due)));
        Assert.Null(Compare.Run(new StudyModel(StudyFixtures.Prepared(StudyFixtures.ThreeCameras + "\nfarm: {nodes: [{name: node, count: 0}]}\n")), 20).Preferred);
    }

    [Fact]
    public void Compare_NoRecordedHours_AnswersSensibly()
    {
        Comparison comparison = Compare.Run(new StudyModel(StudyFixtures.Prepared(StudyFixtures.ThreeCameras.Replace("2.5 h", "0 h", StringComparison.Ordinal))), 20);
        Assert.Equal(0, comparison.Bytes.P90);
        Assert.Contains(comparison.Findings, f => f.Name == "nothing is recorded");
        Assert.All(comparison.Pipelines, p => Assert.True(double.IsFinite(p.Delivery.P50)));
    }

    [Fact]
    public void Evaluate_ShootSlip_MovesOffloadByDays()
    {
        StudyModel model = Model();
        double before = Evaluate(model, draws: 20).OffloadEnd[0];
        Assert.Equal(3 * 86_400, Evaluate(model, [Change.Plus("shoot.slip", 3)], draws: 20).OffloadEnd[0] - before);
    }

    [Fact]
    public void Evaluate_EventThatConcernsOnePipeline_LeavesTheOthers()
    {
        StudyModel without = Model();
        StudyModel with = Model("events: [{name: cooling, probability: 1, delay: 360 d, hits: farm, pipelines: [transcode]}]");
        Evaluation a = Evaluate(without, draws: 20);
        Evaluation b = Evaluate(with, draws: 20);
        Assert.Equal(a.Pipelines[0].Delivered, b.Pipelines[0].Delivered);
        Assert.All(a.Pipelines[1].Delivered.Zip(b.Pipelines[1].Delivered), d => Assert.True(d.Second > d.First + (300 * 86_400.0)));
    }

    [Fact]
    public void Gates_ProblemsInTheRehearsal_StopProxyOnly()
    {
        string text = StudyFixtures.ThreeCameras + "\nproxies: {names_kept: yes}\nseats: {decode: 100}\nstorage: {online: {capacity: 1 PB}, nearline: {capacity: 1 PB}}\n";
        Comparison fine = Compare.Run(new StudyModel(StudyFixtures.Prepared(text)), 50);
        Assert.Equal("yes", fine.Of("proxy").Admissible);
        Comparison broken = Compare.Run(new StudyModel(StudyFixtures.Prepared(text, problemShare: 0.2)), 50);
        Assert.Equal("no", broken.Of("proxy").Admissible);
        Assert.Equal("yes", broken.Of("transcode").Admissible);
        Assert.Equal("match key", broken.Of("proxy").Binding!.Name);
        Assert.True(broken.Of("proxy").PeopleHours.P50 > fine.Of("proxy").PeopleHours.P50);
    }

    [Fact]
    public void Limits_LockDecides_IsNamed()
    {
        Comparison comparison = Compare.Run(new StudyModel(StudyFixtures.Prepared(StudyFixtures.ThreeCameras + "\nseats: {decode: 100}\nstorage: {online: {capacity: 1 PB}, nearline: {capacity: 1 PB}}\n")), 100);
        Assert.Contains(comparison.Of("transcode").Binding!.Name, new[] { "lock date", "lock slip", "graders" });
        Assert.NotNull(comparison.Of("transcode").Next);
        Assert.NotEqual(comparison.Of("transcode").Binding!.Name, comparison.Of("transcode").Next!.Name);
    }

    [Fact]
    public void MarginLedger_SameMarginTwice_IsAnError() =>
        Assert.Throws<InvalidOperationException>(() => new MarginLedger().Add("headroom", "× 0.7", "links").Add("headroom", "× 0.7", "the array"));
}
