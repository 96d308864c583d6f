using PostPipeline.Studies.Outcomes;
using Xunit;

namespace PostPipeline.Studies.Tests.Outcomes;

public sealed class OccupancyByDayTests
{
    // Worked by hand: 3 cameras × 2.5 h × 25 days of clip R are 71.663616 TB, which grow evenly from the first call to the
    // last offload and stand alone online until the next generation starts.
    [Fact]
    public void Of_NativeOriginals_GrowEvenlyAndStandUntilTheyMayGo()
    {
        StudyModel model = new(StudyFixtures.Prepared(StudyFixtures.ThreeCameras + "\npipelines: [native]\ncaches: 0 %\n"));
        Comparison comparison = Compare.Run(model, 20);
        OccupancyByDay curve = Assert.Single(OccupancyByDay.Of(comparison));
        PipelineDraws draws = comparison.Evaluation.Pipelines[0];
        double from = draws.StageStart[0][0];
        double complete = draws.StageFinish[0][0];
        double next = draws.Locked.Min();
        Assert.InRange((complete - from) / 86_400, 24, 36);
        int compared = 0;
        foreach (OccupancyDay day in curve.Online.Where(d => d.Seconds <= next))
        {
            double expected = 71_663_616_000_000 * Math.Clamp((day.Seconds - from) / (complete - from), 0, 1);
            Assert.Equal(expected, day.Bytes.P50, 1e3);
            Assert.Equal(day.Bytes.P10, day.Bytes.P90, 1e3);
            compared += expected > 0 ? 1 : 0;
        }

        Assert.True(compared > 30);
        Assert.All(curve.Online, d => Assert.InRange(d.Bytes.P50, 0, draws.OnlinePeak.Max() + 1));
        Assert.Equal(0, curve.Online[^1].Bytes.P90);
        Assert.All(curve.Nearline, d => Assert.Equal(0, d.Bytes.P90));
    }
}
