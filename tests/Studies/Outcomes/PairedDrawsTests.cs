using PostPipeline.Studies.Inputs;
using PostPipeline.Studies.Outcomes;
using PostPipeline.Studies.Printing;
using Xunit;

namespace PostPipeline.Studies.Tests.Outcomes;

/// <summary>
/// Two pipelines that are the same but for one event: without off-speed modes a conversion of off-speed clips converts
/// nothing, so it differs from native in nothing else. Only draws that are paired can show that.
/// </summary>
public sealed class PairedDrawsTests
{
    private const int Draws = 500;

    private static readonly Comparison Answer = Compare.Quick(
        new StudyModel(StudyFixtures.Prepared(
            StudyFixtures.ThreeCameras + "\npipelines: [native, transcode-off-speed]\nevents: [{name: refused, probability: 0.3, delay: 20 d, cost: 1000, hits: finish, pipelines: [transcode-off-speed]}]\n")),
        Draws,
        []);

    private static int Happened => Enumerable.Range(0, Draws).Count(d => Answer.Draws.Luck(d)[^1] < 0.3);

    [Fact]
    public void Pairs_OneEvent_DecidesEveryDraw()
    {
        PairOutcome pair = Assert.Single(Answer.Pairs);
        Assert.Equal(("native", "transcode-off-speed"), (pair.First, pair.Second));
        Assert.Equal(Happened / (double)Draws, pair.Before.Share);
        Assert.Equal(1 - pair.Before.Share, pair.Together.Share, 1e-12);
        Assert.Equal(pair.Before.Share, pair.Cheaper.Share);

        // Four standard errors of a share of 0.3 in 500 draws are 0.082.
        Assert.Equal(0.3, pair.Before.Share, 0.082);
        Assert.Equal(Math.Sqrt(pair.Before.Share * (1 - pair.Before.Share) / Draws), pair.Before.StandardError, 1e-12);
    }

    // The other way round, so that a share of wrong pairs cannot hide: out of order, the same deliveries tie in far fewer draws.
    [Fact]
    public void Pairs_DrawsOutOfStep_TieFarLessOften()
    {
        double[] native = Answer.Evaluation.Pipelines[0].Delivered;
        double[] other = Answer.Evaluation.Pipelines[1].Delivered;
        double[] turned = [.. other[1..], other[0]];
        Assert.True(Probability.Same(native, other).Share > 0.6);
        Assert.True(Probability.Same(native, turned).Share < 0.3);
    }

    [Fact]
    public void ResultJson_Pair_SaysHowOftenBothTie()
    {
        string json = ResultJson.Of(Answer).ToJsonString();
        Assert.Contains("\"together\":", json, StringComparison.Ordinal);
        Assert.Contains("\"tied_with\":", json, StringComparison.Ordinal);
    }

    [Fact]
    public void Preference_EqualInAllThatIsPreferred_NamesTheTie()
    {
        StudyModel model = new(StudyFixtures.Prepared(
            StudyFixtures.ThreeCameras + "\npipelines: [native, transcode-off-speed]\nseats: {decode: 100}\nstorage: {online: {capacity: 1 PB}, nearline: {capacity: 1 PB}}\n"));
        Comparison tied = Compare.Quick(model, 50, []);
        Assert.Equal("native", tied.Preferred);
        Assert.Equal(["transcode-off-speed"], Preference.Ties(model.Study.Brief, tied.Pipelines));
        Assert.Contains("the order in the brief decides", tied.Why, StringComparison.Ordinal);
        Assert.Empty(Preference.Ties(model.Study.Brief, [tied.Pipelines[0]]));
    }
}
