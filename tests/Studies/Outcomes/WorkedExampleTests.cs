using PostPipeline.Studies.Inputs;
using PostPipeline.Studies.Outcomes;
using PostPipeline.Studies.Reforecasts;
using PostPipeline.Studies.Stages;
using Xunit;

namespace PostPipeline.Studies.Tests.Outcomes;

/// <summary>Worked examples with invented inputs (common practice, no source); their arithmetic is reproduced exactly.</summary>
public sealed class WorkedExampleTests
{
    // 3 cameras × 2.5 h a day of clip R: 2.867 TB a day, 71.66 TB in 25 days; a 110-minute film at 25:1 would be 17.5 TB,
    // so the plan implies 102:1.
    [Fact]
    public void TwoVolumes_ThreeCameras_AreFlagged()
    {
        PreparedStudy study = StudyFixtures.Prepared(StudyFixtures.ThreeCameras);
        long bytes = study.Strands.Sum(s => s.TotalBytes);
        Assert.Equal(71_663_616_000_000, bytes);
        Assert.Equal(2.867, bytes / 25 / 1e12, 5e-4);
        Assert.Equal(102, ShootFindings.ImpliedRatio(25, 3, 2.5, 6600), 0.5);
        Assert.Equal(17.5, 25 * 6600 * 24 * StudyFixtures.ReferenceClip / 1e12, 0.05);
        Finding finding = Compare.Run(new StudyModel(study), 20).Findings.Single(f => f.Name == "two volumes");
        Assert.Contains("differ by more than 1.5 times", finding.Says, StringComparison.Ordinal);
        Assert.Contains("102:1", finding.Says, StringComparison.Ordinal);
    }

    // Peaks in TB, online / nearline: native (15 % caches) 84.41 / 0; transcode with originals online 132.65 / 0, nearline
    // 60.99 / 71.66; proxy with a trimmed pull of 0.83: 7.88 / 71.66. Mezzanine 0.8231×, proxies 0.04259× (36.2 Mb/s),
    // renders 2.0, for proxy 4.0.
    [Theory]
    [InlineData("native", "2 TB", "nearline", 84.41, 0)]
    [InlineData("transcode", "2 TB", "online", 132.65, 0)]
    [InlineData("transcode", "2 TB", "nearline", 60.99, 71.66)]
    [InlineData("proxy", "4 TB", "nearline", 7.88, 71.66)]
    public void Peaks_ThreeCameras_EqualWorkedNumbers(string pipeline, string renders, string originals, double online, double nearline)
    {
        string text = StudyFixtures.ThreeCameras.Replace("finished: 110 min", "finished: 98 min\n  events_per_minute: 14.79591836734694", StringComparison.Ordinal) + $$"""

            pipelines: [{{pipeline}}]
            caches: 15 %
            proxies: {rate: 36.2 Mb/s}
            storage: {originals: {{originals}}}
            finish: {renders: {{renders}}, handles: 16}
            """;
        StudyModel model = new(StudyFixtures.Prepared(text));
        PipelineDraws draws = model.Evaluate(DrawSet.Median(model.Inputs)).Pipelines[0];
        Assert.Equal(online, draws.OnlinePeak[0] / 1e12, 0.005);
        Assert.Equal(nearline, draws.NearlinePeak[0] / 1e12, 0.005);
    }

    // To buy online for 84.41 TB: ÷ 0.8 free, × 1.25 for eight data and two parity drives.
    [Fact]
    public void UsableBytes_FreeSpaceAndParity_AreTakenOffOnce()
    {
        string text = StudyFixtures.ThreeCameras + "\nstorage: {online: {capacity: 131890625 MB}}\n";
        PreparedStudy study = StudyFixtures.Prepared(text);
        Assert.Equal(84.41, study.Brief.Storage.Online.UsableBytes / 1e12, 1e-9);
    }

    // 98 min = 141,120 frames, 1,450 events, 16-frame handles: 187,520 frames, 0.830 TB of R.
    [Fact]
    public void Pull_TrimmedWithHandles_EqualsWorkedNumber()
    {
        Assert.Equal(187_520, Pull.Frames(141_120, 1450, 16));
        Assert.Equal(0.830, Pull.Bytes(141_120, 1450, 16, StudyFixtures.ReferenceClip, true, 1e15) / 1e12, 5e-4);
        Assert.Equal(1e11, Pull.Bytes(141_120, 1450, 16, StudyFixtures.ReferenceClip, true, 1e11));
    }

    // Transcode 8.4 node-h × 0.5 + 314.6 GB × 4 months × 25/TB = 35.66 an hour recorded; proxy 2.88 × 0.5 + 1.63 = 3.07;
    // extra conform and risk 2,200: 67.5 recorded hours.
    [Fact]
    public void BreakEven_TranscodeAgainstProxy_EqualsWorkedNumber()
    {
        decimal transcode = BreakEvens.PerRecordedHour(8.4m, 0.5m, 0.3146m, 4, 25);
        Assert.Equal(35.66m, transcode);
        decimal proxy = (2.88m * 0.5m) + 1.63m;
        Assert.Equal(3.07m, proxy);
        Assert.Equal(67.5m, Math.Round(BreakEvens.RecordedHours(transcode, proxy, 2200), 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => BreakEvens.RecordedHours(proxy, transcode, 2200));
    }

    // (9,000 − 1,800)/36 + 60 room + 60 upkeep = 320 a month; energy 0.27/h; rent 1.80/h: 209 h a month.
    [Fact]
    public void BreakEven_RentOrBuy_EqualsWorkedNumber()
    {
        decimal owning = BreakEvens.OwningPerMonth(9000, 1800, 36, 60, 60);
        Assert.Equal(320m, owning);
        Assert.Equal(209m, Math.Round(BreakEvens.HoursAMonth(owning, 0.27m, 1.80m), 0));
    }

    // Five days at 2.2 TB against 2 planned, then 15 days planned at 2 and 5 at 6: 60 × (1 + 0.1·5/8) = 63.75 TB.
    [Fact]
    public void Blend_FiveDaysTenPercentOver_Gives6375()
    {
        Blend blend = Blend.Of([2, 2, 2, 2, 2], [2.2, 2.2, 2.2, 2.2, 2.2], 0.25);
        double[] remaining = [.. Enumerable.Repeat(2.0, 15), .. Enumerable.Repeat(6.0, 5)];
        Assert.Equal(63.75, blend.Total(0, remaining), 1e-12);
        Assert.Equal(11 + 63.75, blend.Total(11, remaining), 1e-12);
        Assert.Equal(5.0 / 8, blend.Weight);

        // Equal ratios have no variance of their own: only the plan's part is left, (1 − w)·σ.
        Assert.Equal(0.375 * 0.25, blend.FactorDeviation, 1e-12);
    }

    [Fact]
    public void Blend_NothingSeen_IsThePlan()
    {
        Blend blend = Blend.Of([], [], 0.25);
        Assert.Equal((1.0, 0.25), (blend.Factor, blend.FactorDeviation));
    }
}
