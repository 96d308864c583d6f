using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Outcomes;
using PostPipeline.Studies.Printing;
using PostPipeline.Studies.Reforecasts;
using Xunit;

namespace PostPipeline.Studies.Tests.Reforecasts;

public sealed class ReforecastTests
{
    private static readonly PreparedStudy Study = StudyFixtures.Prepared(StudyFixtures.ThreeCameras + "\nstorage: {nearline: {capacity: 130 TB}, online: {capacity: 500 TB}}\n");

    private static string Row(Baseline baseline, int day, double ratio) =>
        FormattableString.Invariant($"{baseline.Days[day].Date:uuuu-MM-dd},main,3,{(long)(baseline.Days[day].Bytes * ratio)},{baseline.Days[day].Minutes:0},100,,,,");

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

    [Fact]
    public void Pages_EveryKind_EscapesNamesAndCarriesTheFooter()
    {
        PreparedStudy study = StudyFixtures.Prepared("title: \"<b>Salt & Smoke</b>\"\n" + StudyFixtures.ThreeCameras);
        Comparison comparison = Compare.Run(new StudyModel(study), 30);
        foreach (string kind in Pages.KindNames)
        {
            string page = Pages.Of(kind, comparison, new("3", "2026-11-25", new string('a', 64)));
            Assert.DoesNotContain("<b>Salt", page, StringComparison.Ordinal);
            Assert.Contains("&lt;b&gt;Salt &amp; Smoke", page, StringComparison.Ordinal);
            Assert.Contains("revision 3", page, StringComparison.Ordinal);
            Assert.Contains("page 1 of ", page, StringComparison.Ordinal);
            Assert.Contains("inputs guessed", page, StringComparison.Ordinal);
            Assert.DoesNotContain("<script", page, StringComparison.Ordinal);
        }

        Assert.Contains("do not clear", Pages.Of("release", comparison, new("1", "2026-11-25", "ab")), StringComparison.Ordinal);
    }

    // 12 × 0.65 + 1.5 = 9.3 kW = 31,732 BTU/h; 230 V at unity 40.4 A; ÷ 0.95 = 42.6 A; continuous ÷ 0.8 = 53.2 A
    // (common practice, no source).
    [Fact]
    public void PowerRequest_TwelveNodes_EqualsWorkedNumber()
    {
        PowerRequest power = PowerRequest.Of(12);
        Assert.Equal(9.3, power.Kilowatts, 1e-9);
        Assert.Equal(31_732, power.BtuPerHour, 0.5);
        Assert.Equal(40.4, power.UnityAmperes, 0.05);
        Assert.Equal(42.6, power.Amperes, 0.05);
        Assert.Equal(53.2, power.CircuitAmperes, 0.05);
    }
}
