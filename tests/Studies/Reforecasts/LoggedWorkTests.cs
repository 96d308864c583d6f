using PostPipeline.Studies.Outcomes;
using PostPipeline.Studies.Reforecasts;
using Xunit;

namespace PostPipeline.Studies.Tests.Reforecasts;

/// <summary>
/// The columns of a log beside bytes, worked by hand: each remaining planned day is multiplied by w·r + (1−w) with r actual
/// over plan and w = k/(k+3); the factor's standard deviation is √(w²s²/k + (1−w)²σ²). Invented figures; common practice, no
/// source. Three cameras for 2.5 h on 25 equal days of clip R: 187.5 h, 16,200,000 frames at 24 a second, 71.663616 TB.
/// </summary>
public sealed class LoggedWorkTests
{
    private const double Day = 2_866_544_640_000;

    // Nothing is uncertain but what the log speaks of: a median of 1,000 draws of it stands within 1.25 ÷ √1,000 = 4 % of
    // one standard deviation, which the tolerances below cover three times over.
    private const string Certain = """

        pipelines: [PIPELINE]
        farm: {overhead: 0 s, failures: 0 %, available: 100 %}
        finish: {sync: 0.5, hand_over: 8 h, grade: 60 h, quality_check: 2, versions: 1, clean_events: 60, problem_event: 10 min, problem_share: {low: 2 %, likely: 4 %, high: 8 %}}
        """;

    private static Reforecast Seen(string pipeline, string rows, double problemShare = 0, Func<Baseline, Baseline>? frozen = null)
    {
        string text = StudyFixtures.ThreeCameras
            .Replace("hours_per_day: 2.5 h", "hours_per_day: 2.5 h\n  day_spread: 0", StringComparison.Ordinal)
            .Replace("finished: 110 min", "finished: 110 min\n  events_per_minute: 10", StringComparison.Ordinal)
            + Certain.Replace("PIPELINE", pipeline, StringComparison.Ordinal);
        StudyModel model = new(StudyFixtures.Prepared(text, problemShare: problemShare));
        Baseline baseline = Baseline.Freeze(Compare.Run(model, 30), text);
        return Reforecast.Of(model, frozen?.Invoke(baseline) ?? baseline, DailyLog.Read("log.csv", "date,unit,cameras,bytes,minutes,clips,events_conformed,problem_events,farm_frames,farm_seconds\n" + rows, model.Study.Brief), 1000);
    }

    // Planned 0.1 s a frame. Three days of 2,700,000 frames are planned at 270,000 s each and took 324,000, 351,000 and
    // 297,000: r = 972,000 ÷ 810,000 = 1.2, k = 3, w = 1/2, factor 1.1. The daily ratios 1.2, 1.3, 1.1 have s² = 0.01; the
    // prediction's own σ is 0.2: √(¼·0.01/3 + ¼·0.04) = 0.104083. The 8,100,000 frames are half of all, so the whole takes
    // ½·1.2 + ½·1.1 = 1.15 of the plan: 450 h × 1.15 = 517.5 node-hours. The final render of 158,400 frames at 0.8 s is all to
    // come: 35.2 h × 1.1 = 38.72. Together 556.22.
    [Fact]
    public void FarmSeconds_ThreeDays_BlendIntoRenderTimes()
    {
        Reforecast now = Seen(
            "transcode",
            $"2026-09-07,main,3,{Day},450,90,,,2700000,324000\n2026-09-08,main,3,{Day},450,110,,,2700000,351000\n2026-09-09,main,2,{Day},450,100,,,2700000,297000\n",
            frozen: b => b with { SecondsPerFrame = 0.1 });
        Blend seconds = Assert.IsType<Blend>(now.SecondsPerFrame);
        Assert.Equal((3, 1.2), (seconds.Days, Math.Round(seconds.Ratio, 12)));
        Assert.Equal(1.1, seconds.Factor, 1e-12);
        Assert.Equal(0.104083, seconds.FactorDeviation, 5e-7);
        Assert.Equal(556.22, now.Pipelines.Single().NodeHours.P50, 4.0);

        // What the log says of cameras and clips is told and changes nothing: 3 + 3 + 2, and 90 + 110 + 100.
        Assert.Equal((8.0, 300.0), (now.CameraDays, now.Clips));
        Assert.Null(now.ProblemEvents);
    }

    // The spread of what is left replaces the plan's: without a log P90 ÷ P50 of 0.2 in the logarithm would be 1.29 for all
    // frames; here half of them are facts and the rest has 0.104 of 1.1: (0.6 + 0.55·e^(1.2816·0.0944)) ÷ 1.15 = 1.062 for the
    // conversion, and the volume adds a little.
    [Fact]
    public void FarmSeconds_ThreeDays_NarrowTheSpread()
    {
        string rows = $"2026-09-07,main,3,{Day},450,,,,2700000,324000\n2026-09-08,main,3,{Day},450,,,,2700000,351000\n2026-09-09,main,3,{Day},450,,,,2700000,297000\n";
        PostPipeline.Studies.Outcomes.Range hours = Seen("transcode", rows, frozen: b => b with { SecondsPerFrame = 0.1, DaySpread = 0.0001 }).Pipelines.Single().NodeHours;
        Assert.InRange(hours.P90 / hours.P50, 1.045, 1.085);
    }

    // The rehearsal finds 6 % and 4 % are planned beyond them: 10 %. Of 200 and 300 events 30 and 45 had a problem where 20 and
    // 30 were planned: r = 75 ÷ 50 = 1.5, k = 2, w = 2/5, factor 0.4·1.5 + 0.6 = 1.2. σ = (8 % − 2 %) ÷ 2.5631 ÷ 10 % = 0.234091.
    // Both ratios are 1.5, so s² is the plan's share alone, of three days one known and two missing: (0 + 2σ²)/3 = 0.036532;
    // √(0.16·0.036532/2 + 0.36·0.054799) = 0.150500. Of 1,100 events 500 are conformed: the whole has 500/1100·1.5 + 600/1100·1.2 =
    // 1.336364 of the plan's problems, 13.36364 %. Conform: 1,100 × (0.8663636 ÷ 60 + 0.1336364 ÷ 6) = 40.3833 h. With sync
    // 93.75, grade 60 and checking 110/60 × 2 = 3.6667 h that is 197.80 person-hours.
    [Fact]
    public void ProblemEvents_TwoDays_BlendIntoTheConform()
    {
        Reforecast now = Seen(
            "proxy",
            $"2026-09-07,main,,{Day},450,,200,30,,\n2026-09-08,main,,{Day},450,,300,45,,\n",
            problemShare: 0.06,
            frozen: b =>
            {
                Assert.Equal(0.10, b.ProblemShare, 1e-12);
                return b with { DaySpread = 0.0001 };
            });
        Blend problems = Assert.IsType<Blend>(now.ProblemEvents);
        Assert.Equal((2, 1.5), (problems.Days, Math.Round(problems.Ratio, 12)));
        Assert.Equal(1.2, problems.Factor, 1e-12);
        Assert.Equal(0.150500, problems.FactorDeviation, 5e-5);
        Assert.Equal(197.80, now.Pipelines.Single().PeopleHours.P50, 0.2);
        Assert.Null(now.SecondsPerFrame);
        Assert.Null(now.CameraDays);
    }

    // Three days of 1.2 times the bytes in the planned minutes: bytes have the factor ½·1.2 + ½ = 1.1 and end at (3·1.2 + 22·1.1)
    // ÷ 25 = 1.112 of the plan, hours at 1. Sync is 187.5 × 0.5 = 93.75 h; hand-over 8, grade 60, checking 3.6667: 165.4167.
    // Where the log has no minutes, hours follow bytes: sync is 93.75 × 1.112 = 104.25 and all 175.9167.
    [Theory]
    [InlineData("450", 165.4167)]
    [InlineData("", 175.9167)]
    public void Minutes_HeavierMaterial_ReachBytesAndNotHours(string minutes, double peopleHours)
    {
        string rows = string.Concat(Enumerable.Range(7, 3).Select(d => FormattableString.Invariant($"2026-09-{d:00},main,,{(long)(1.2 * Day)},{minutes},,,,,\n")));
        Reforecast now = Seen("transcode", rows, frozen: b => b with { DaySpread = 0.0001 });
        Assert.Equal(1.112 * 25 * Day, now.TotalBytes.P50, 100.0);
        Assert.Equal(peopleHours, now.Pipelines.Single().PeopleHours.P50, 0.02);
        Assert.Equal(1.112 * 25 * Day, now.Pipelines.Single().NearlinePeak.P50, 2e-4 * 25 * Day);
        Assert.Equal(minutes.Length > 0 ? 1.0 : null, now.Minutes?.Factor);
    }
}
