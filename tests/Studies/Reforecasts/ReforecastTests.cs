using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Outcomes;
using PostPipeline.Studies.Printing;
using PostPipeline.Studies.Reforecasts;
using PostPipeline.Studies.WhatIfs;
using Xunit;

namespace PostPipeline.Studies.Tests.Reforecasts;

public sealed class ReforecastTests
{
    private static readonly PreparedStudy Study = StudyFixtures.Prepared(StudyFixtures.ThreeCameras + "\nstorage: {nearline: {capacity: 130 TB}, online: {capacity: 500 TB}}\n");

    private static string Row(Baseline baseline, int day, double ratio) =>
        FormattableString.Invariant($"{baseline.Days[day].Date:uuuu-MM-dd},main,3,{(long)(baseline.Days[day].Bytes * ratio)},{baseline.Days[day].Minutes * ratio:0.000000},100,,,,");

    private static (StudyModel Model, Baseline Baseline) Frozen()
    {
        StudyModel model = new(Study);
        return (model, Baseline.Freeze(Compare.Run(model, 50), StudyFixtures.ThreeCameras));
    }

    [Fact]
    public void Reforecast_FiveDaysOver_BlendsTheRatioIntoTheRest()
    {
        (StudyModel model, Baseline baseline) = Frozen();
        string csv = string.Join('\n', [string.Join(',', DailyLog.Columns), .. Enumerable.Range(0, 5).Select(d => Row(baseline, d, 1.6))]);
        Reforecast now = Reforecast.Of(model, baseline, DailyLog.Read("log.csv", csv, Study.Brief), 50);
        Assert.Equal(1.6, now.Bytes.Ratio, 1e-9);
        Assert.Equal(1.375, now.Bytes.Factor, 1e-9);
        double rest = baseline.Days.Skip(5).Sum(d => d.Bytes);
        Assert.Equal(now.BytesSoFar + (1.375 * rest), now.TotalBytes.P50, 1.0);
        Assert.True(now.TotalBytes.P10 < now.TotalBytes.P50 && now.TotalBytes.P50 < now.TotalBytes.P90);
        Assert.True(now.TotalBytes.P10 >= now.BytesSoFar);

        // 130 TB ÷ 1.25 × 0.8 = 83.2 TB usable: the plan's 71.7 TB fit, the forecast does not, and the day is named.
        Assert.Contains(now.Alerts, a => a.Name == "nearline full" && a.Day.Length == 10);
        Assert.Equal(baseline.Days[5].Date, Assert.Single(now.Tomorrow).Date);
    }

    // Native keeps its originals online, and nothing else is uncertain about their size: the forecast's spread must be there.
    [Fact]
    public void Reforecast_SpreadOfTheForecast_ReachesThePeak()
    {
        (StudyModel model, Baseline baseline) = Frozen();
        string csv = string.Join('\n', [string.Join(',', DailyLog.Columns), .. Enumerable.Range(0, 5).Select(d => Row(baseline, d, d % 2 == 0 ? 1.5 : 0.5))]);
        Reforecast now = Reforecast.Of(model, baseline, DailyLog.Read("log.csv", csv, Study.Brief), 1000);
        Assert.True(now.TotalBytes.P90 - now.TotalBytes.P10 > 10e12);
        PipelineOutcome native = now.Pipelines.Single(p => p.Name == "native");
        double spread = (native.OnlinePeak.P90 - native.OnlinePeak.P10) / (now.TotalBytes.P90 - now.TotalBytes.P10);

        // The sampling error of a difference of two deciles of 1,000 draws is about 6 %; caches may add to the originals.
        Assert.InRange(spread, 0.8, 1.5);
    }

    [Fact]
    public void Reforecast_AsPlanned_RaisesNoAlertOfVolume()
    {
        (StudyModel model, Baseline baseline) = Frozen();
        string csv = string.Join('\n', [string.Join(',', DailyLog.Columns), .. Enumerable.Range(0, 5).Select(d => Row(baseline, d, 1))]);
        Reforecast now = Reforecast.Of(model, baseline, DailyLog.Read("log.csv", csv, Study.Brief), 50);
        Assert.Equal(baseline.Days.Sum(d => d.Bytes), now.TotalBytes.P50, 100.0);
        Assert.DoesNotContain(now.Alerts, a => a.Name is "nearline full" or "plan left");
    }

    // A band of 10 % on both sides, left on the third day of a fifth too much, and entered again.
    [Fact]
    public void LeftBand_DayThatLeft_IsNamedAndForgottenWhereItComesBack()
    {
        (StudyModel model, Baseline baseline) = Frozen();
        Baseline wide = baseline with { TotalBytes = new(baseline.TotalBytes.P50 * 0.9, baseline.TotalBytes.P50, baseline.TotalBytes.P50 * 1.1) };
        Reforecast Seen(params double[] ratios) => Reforecast.Of(
            model, wide, DailyLog.Read("log.csv", string.Join('\n', [string.Join(',', DailyLog.Columns), .. ratios.Select((r, d) => Row(wide, d, r))]), Study.Brief), 30);

        // After two days of 1.2 the ratio is 1.2 and w = 2/5, so the rest is × 1.08 and the whole + 8.96 %; a third day of
        // 1.2 makes w = 1/2, × 1.1 and + 11.2 %: that is the day, whatever follows.
        Assert.Null(Seen(1.2, 1.2).LeftBand);
        Assert.Equal(wide.Days[2].Date, Seen(1.2, 1.2, 1.2).LeftBand);
        Reforecast later = Seen(1.2, 1.2, 1.2, 1.2, 1.2);
        Assert.Equal(wide.Days[2].Date, later.LeftBand);
        Alert alert = later.Alerts.Single(a => a.Name == "plan left");
        Assert.Equal(wide.Days[2].Date.ToString("uuuu-MM-dd", null), alert.Day);
        Assert.Null(Seen(1.2, 1.2, 1.2, 0.6, 0.8).LeftBand);
    }

    [Fact]
    public void SinceYesterday_SameLog_IsEmpty_AndADayMoreIsInFull()
    {
        (StudyModel model, Baseline baseline) = Frozen();
        Reforecast Seen(params double[] ratios) => Reforecast.Of(
            model, baseline, DailyLog.Read("log.csv", string.Join('\n', [string.Join(',', DailyLog.Columns), .. ratios.Select((r, d) => Row(baseline, d, r))]), Study.Brief), 50);
        Reforecast yesterday = Seen(1, 1);
        Assert.Empty(SinceYesterday.Of(model, yesterday, Seen(1, 1)));
        Reforecast now = Seen(1, 1, 2.5);
        IReadOnlyList<MovedOutcome> moved = SinceYesterday.Of(model, yesterday, now);
        Assert.All(moved, m => Assert.NotEqual(m.Before, m.After));
        Assert.Contains(moved, m => m is { Pipeline: "", What: "whole shoot P50" } && m.Before == Numbers.Size(yesterday.TotalBytes.P50) && m.After == Numbers.Size(now.TotalBytes.P50));
        Assert.Contains(moved, m => m is { What: "a remaining day's bytes against plan", Before: "× 1" } && m.After == $"× {Numbers.Three(now.Bytes.Factor)}");
        Assert.Contains(moved, m => m is { Pipeline: "native", What: "online peak P90" });
        Assert.Contains(moved, m => m is { Pipeline: "transcode", What: "node-hours P50" });
        Assert.Contains(moved, m => m is { Pipeline: "", What: "outside the plan's band since", Before: "–" });
        Assert.Contains(moved, m => m.What == "alert nearline full" && m.Before == "–");

        // The lock decides the date of native, and its gates other than storage have not moved.
        Assert.DoesNotContain(moved, m => m is { Pipeline: "native", What: "gate link" });
    }

    // Eight cards of which a heavier day needs nine; drives of 4 × 4 TB of which five days of 2.867 TB × 1.2 took 17.2; tapes
    // of 16.56 TB each, five for the plan of 71.66 TB.
    [Fact]
    public void Tomorrow_Supplies_AreWhatIsLeftAndWhatTheDayTakes()
    {
        PreparedStudy study = StudyFixtures.Prepared(
            StudyFixtures.ThreeCameras.Replace("hours_per_day: 2.5 h", "hours_per_day: 2.5 h\n  day_spread: 0", StringComparison.Ordinal)
            + "\ncards: [{name: card, count: 8}]\noffload: {destinations: [{size: 5 TB, count: 4}, {}]}\nstorage: {nearline: {capacity: 130 TB}}\n");
        StudyModel model = new(study);
        Baseline baseline = Baseline.Freeze(Compare.Run(model, 30), StudyFixtures.ThreeCameras);
        string csv = string.Join('\n', [string.Join(',', DailyLog.Columns), .. Enumerable.Range(0, 5).Select(d => Row(baseline, d, 1.2))]);
        Reforecast now = Reforecast.Of(model, baseline, DailyLog.Read("log.csv", csv, study.Brief), 30);
        Tomorrow next = Assert.Single(now.Tomorrow);
        const double Day = 2_866_544_640_000;
        Assert.Equal(Day * 1.125, next.Bytes, 10.0);
        Dictionary<string, Supply> supplies = next.Supplies.ToDictionary(s => s.Name);
        Assert.Equal((8.0, 9.0, -1.0), (supplies["cards 'card'"].Left, supplies["cards 'card'"].Takes, supplies["cards 'card'"].After));
        Supply drives = supplies["drives of copy 1"];
        Assert.Equal(20e12 - (5 * 1.2 * Day), drives.Left, 10.0);
        Assert.Equal((Day * 1.125, 0), (Math.Round(drives.Takes), drives.WholeLeft!.Value));
        Assert.Equal((130e12 / 1.25 * 0.8) - (6 * Day), supplies["nearline"].Left, 10.0);
        Assert.Equal((5 * 16.56e12) - (6 * Day), supplies["tapes of a set, as ordered for the plan"].Left, 10.0);
        Assert.Equal(3, supplies["tapes of a set, as ordered for the plan"].WholeLeft);
        Assert.DoesNotContain("drives of copy 2", supplies.Keys);

        // 17.2 TB and the sixth day's 3.22 TB pass 20 TB: the drives' day is tomorrow.
        Assert.Equal("2026-09-14", now.Alerts.Single(a => a.Name == "drives of copy 1 full").Day);
        Assert.Equal(10, now.Alerts.Single(a => a.Name == "cards 'card' run out").Day.Length);
    }

    // Native's originals pass what may be stored online before the shoot ends, and the day on which they do is named.
    [Fact]
    public void Alerts_CapacityGate_NamesTheDayOfTheMedian()
    {
        StudyModel model = new(StudyFixtures.Prepared(StudyFixtures.ThreeCameras + "\npipelines: [native]\ncaches: 0 %\nstorage: {online: {capacity: 62.5 TB}}\n"));
        Baseline baseline = Baseline.Freeze(Compare.Run(model, 30), StudyFixtures.ThreeCameras);
        string csv = string.Join('\n', [string.Join(',', DailyLog.Columns), .. Enumerable.Range(0, 3).Select(d => Row(baseline, d, 1))]);
        Reforecast now = Reforecast.Of(model, baseline, DailyLog.Read("log.csv", csv, model.Study.Brief), 30);

        // 62.5 ÷ 1.25 × 0.8 = 40 of 71.66 TB: a little over half of the way from the first day to the last.
        string day = now.Alerts.Single(a => a.Name == "native: online capacity").Day;
        Assert.InRange(string.CompareOrdinal(day, "2026-09-21"), 0, 9999);
        Assert.InRange(string.CompareOrdinal("2026-10-01", day), 0, 9999);
    }

    // With certain hours only days differ: σ = 0.25 on each of 25 days, so the band is ± 1.2816 × 0.25 × √Σday².
    [Fact]
    public void Freeze_CertainHours_LeavesTheDaysTheirSpread()
    {
        (_, Baseline baseline) = Frozen();
        double half = 1.2815515655446004 * 0.25 * Math.Sqrt(baseline.Days.Sum(d => d.Bytes * d.Bytes));
        Assert.Equal(baseline.TotalBytes.P50 + half, baseline.TotalBytes.P90, 1e3);
        Assert.Equal(baseline.TotalBytes.P50 - half, baseline.TotalBytes.P10, 1e3);
    }

    [Fact]
    public void Baseline_WrittenAndRead_IsTheSame()
    {
        (_, Baseline baseline) = Frozen();
        string path = Path.GetTempFileName();
        try
        {
            File.WriteAllText(path, baseline.ToJson());
            Assert.Equal(baseline.ToJson(), Baseline.ReadFile(path).ToJson());
            File.WriteAllText(path, "{\"baseline\": 1}");
            Assert.Throws<BriefException>(() => Baseline.ReadFile(path));
        }
        finally
        {
            File.Delete(path);
        }
    }

    [Fact]
    public void DailyLog_EveryProblem_HasLineAndColumn()
    {
        const string Csv = "date,unit,bites,bytes\n2026-09-07,main,,2 TB\n2026-13-01,main,,2 TB\n2026-09-08,third,,many\n2026-09-07,main,,2 TB";
        BriefException error = Assert.Throws<BriefException>(() => DailyLog.Read("log.csv", Csv, Study.Brief));
        Assert.Equal([(1L, "bites"), (3L, "date"), (4L, "unit"), (4L, "bytes"), (5L, "date")], error.Problems.Select(p => (p.Line, p.Key)));
    }
}
