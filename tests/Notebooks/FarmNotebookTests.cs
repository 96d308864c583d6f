using PostPipeline.Notebooks.Charts;
using PostPipeline.Notebooks.Lessons;
using PostPipeline.Notebooks.Rendering;
using PostPipeline.Notebooks.Tests.Support;
using PostPipeline.Studies.Briefs;
using Xunit;

namespace PostPipeline.Notebooks.Tests;

/// <summary>The headline numbers of the notebooks about a farm: its size, its tasks, its ceiling, its calibration.</summary>
[Collection(SuiteTests.Name)]
public sealed class FarmNotebookTests : SuiteTests, IDisposable
{
    private const string Uhd = "output_coding=mezzanine, input_width=3840, input_height=2160";

    private readonly string folder = Directory.CreateTempSubdirectory("postpipeline-calibrate").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    // Common practice, no source: 648,000 frames × 0.35 s are 63 node-hours, and 540 tasks × 30 s another 4.5: in
    // 10 h 6.75 nodes by division. Failures, slow nodes and the tail make it more.
    [Fact]
    public async Task Farm_HonestSize_IsMoreThanByDivision()
    {
        FarmLesson lesson = await new FarmLesson(new(648_000, 0.35, 0.15, 10, 0.9, 0.03, 1_200, 1_200, 7)).SizeAsync();
        Assert.Contains("By division **6.75** nodes", lesson.Answer.Text, StringComparison.Ordinal);
        int honest = int.Parse(lesson.Answer.Text.Split("with 90 %, **")[1].Split('*')[0], System.Globalization.CultureInfo.InvariantCulture);
        Assert.InRange(honest, 8, 15);
    }

    // Derived: 480,000 frames × 0.45 s are 60 node-hours; with overhead of 30 s a task, no failures and certain seconds a frame.
    // Tasks of 60,000 frames are eight for more than eight nodes: none is done before 60,000 × 0.45 + 30 = 27,030 s (7.51 h),
    // however many nodes there are. Tasks of 60 frames are 8,000 × 57 s = 126.7 node-hours, most of it overhead, and keep every
    // node busy to the end. What is best lies between. Nodes are slow now and then, so that the simulation is somewhat later.
    [Fact]
    public async Task Segments_TooFewOrTooMany_AreLaterThanThoseBetween()
    {
        FarmLesson lesson = await new FarmLesson(new(480_000, 0.45, 0, 6, 0.9, 0, 100_000, 1_200, 7)).SizeAsync();
        int nodes = int.Parse(lesson.Answer.Text.Split("with 90 %, **")[1].Split('*')[0], System.Globalization.CultureInfo.InvariantCulture);
        Assert.InRange(nodes, 11, 16);
        double[] finish = [.. (await lesson.SegmentsAsync([60, 600, 2_400, 60_000])).Table.Rows.Select(r => (double)r[2]!)];
        double busy = 8_000 * 57 / 3_600.0 / nodes;
        Assert.InRange(finish[0], busy, 1.15 * busy);
        Assert.InRange(finish[3], 27_030 / 3_600.0, 2 * 27_030 / 3_600.0);
        Assert.InRange(finish[1], 60.0 / nodes, 6);
        Assert.True(finish[1] < finish[0] && finish[1] < finish[3] && finish[2] < finish[3]);
    }

    // A count of nodes is read as nodes and has whole ticks; a probability is never certain.
    [Fact]
    public async Task Sizes_OfAFarm_AreReadAsNodesAndNeverAsCertain()
    {
        Figure sizes = (await new FarmLesson(new(648_000, 0.35, 0.15, 10, 0.9, 0.03, 1_200, 1_200, 7)).SizeAsync()).Sizes;
        Assert.Matches(@"^simulated: .* at \d+ nodes, .* at \d+ nodes\. Limit: asked for: 90 %\. Marked: by division: 7 at 7 nodes\.$", sizes.Summary);
        Assert.DoesNotContain("100 %", sizes.Summary, StringComparison.Ordinal);
        Assert.Matches("\"dtick\":\\s*[1-9][0-9]*\\.?0?[,}]", sizes.ToJson());
        Assert.DoesNotContain("100", NumberTable.Read(sizes.Table.Rows[^1][2]), StringComparison.Ordinal);
    }

    // Common practice, no source: (53.084 + 4.424) MB ÷ 0.5 s = 115.0 MB/s a node; 1,200 MB/s keep 10.43 nodes busy: ten are
    // useful, the eleventh adds 0.4, a sixteenth nothing.
    [Fact]
    public async Task Ceiling_WorkedExample_IsReproduced()
    {
        CeilingLesson lesson = await CeilingLesson.AskAsync(1_200, [5, 10, 11, 16]);
        Assert.Equal(10.43, lesson.Useful, 0.005);
        Assert.All(lesson.Worths.Zip([5.0, 10, 10.433, 10.433]), w => Assert.Equal(w.Second, w.First.Worth, 0.01 * w.Second));
        Assert.Contains("**10 are useful**", lesson.Answer.Text, StringComparison.Ordinal);
    }

    // Derived: the rows were made at 30 ms a megapixel, so 3840 × 2160 take 0.249 s a frame, and 648,000 of them 44.8
    // node-hours: with 540 tasks of 30 s 4.93 nodes by division in 10 h. The error that projects share makes it more.
    [Fact]
    public async Task Calibration_InventedRows_GoFromRowsToNodes()
    {
        string file = Path.Combine(Testing.Outside.Root, "notebooks", "data", "own-rows.csv");
        Assert.Equal(await File.ReadAllTextAsync(file), Studies.Benchmarks.InventedOwnRows.ToCsv());
        CalibrationLesson invented = await LearnAsync(string.Empty);
        Assert.Contains("48 rows of 12 projects, **invented**", invented.Answer.Text, StringComparison.Ordinal);
        Assert.True(invented.Record.Model.HeldOutMedianPercent < invented.Record.Model.BaselineMedianPercent / 2);
        var one = await invented.PredictAsync(Uhd);
        Assert.InRange(one.SecondsPerFrame, 0.249 * 0.85, 0.249 * 1.15);
        Assert.False(one.IntervalRefused);
        Assert.InRange(0.249, one.LowSecondsPerFrame, one.HighSecondsPerFrame);
        string answer = (await invented.SizeAsync(Uhd, new(648_000, 0, 0, 10, 0.9, 0.02, 1_200, 1_200, 7))).Answer.Text;
        double division = double.Parse(answer.Split("**")[1], System.Globalization.CultureInfo.InvariantCulture);
        Assert.Equal(((648_000 * one.SecondsPerFrame) + (540 * 30)) / 36_000, division, 0.01 * division);
        Assert.True(int.Parse(answer.Split("with 90 %, **")[1].Split('*')[0], System.Globalization.CultureInfo.InvariantCulture) > division);

        // The same rows from a file are the same rows, and still invented.
        CalibrationLesson own = await LearnAsync(file);
        Assert.Contains("**invented**", own.Answer.Text, StringComparison.Ordinal);
        Assert.Equal(one.SecondsPerFrame, (await own.PredictAsync(Uhd)).SecondsPerFrame, 1e-9);
    }

    // Derived: rows made at 50 ms a megapixel for one kind of work and 10 ms for the other, under columns of another house. Without
    // failures, overhead and a limit of storage the size by division is frames × seconds ÷ window.
    [Fact]
    public async Task Calibration_AnybodysColumns_GoFromRowsToNodes()
    {
        string file = Rows();
        CalibrationLesson own = await CalibrationLesson.LearnAsync(file, "wall", "count", "show", "kind", "megapixels");
        Assert.Contains("60 rows of 10 projects:", own.Answer.Text, StringComparison.Ordinal);
        var one = await own.PredictAsync("kind=master, megapixels=8");
        Assert.InRange(one.SecondsPerFrame, 0.4 * 0.85, 0.4 * 1.15);
        string answer = (await own.SizeAsync("kind=master, megapixels=8", new(100_000, 0, 0, 5, 0.9, 0, 0, 1_000, 7) { OverheadSeconds = 0, MovedMegabytesPerFrame = 3 })).Answer.Text;
        double division = double.Parse(answer.Split("**")[1], System.Globalization.CultureInfo.InvariantCulture);
        Assert.Equal(100_000 * one.SecondsPerFrame / 18_000, division, 0.01 * division);

        // What the file holds is what the charts are drawn over: three sizes, two kinds.
        Assert.Equal([4.0, 8, 12], (await own.BandsAsync("kind=master, megapixels=8", "megapixels")).Table.Rows.Select(r => (double)r[1]!));
        Assert.Equal(["master", "proxy"], (await own.BandsAsync("kind=master, megapixels=8", "kind")).Table.Rows.Select(r => (string)r[0]!));

        // Seconds a frame are proportional to megapixels, so the curve's ends are 3 : 1; what drives most is the kind, 5 : 1.
        double[] curve = [.. ((Figure)own.Dependence("megapixels")).Table.Rows.Select(r => (double)r[2]!)];
        Assert.InRange(curve[^1] / curve[0], 2.4, 3.6);
        Assert.Equal(["master", "proxy"], ((Figure)own.Dependence(string.Empty)).Table.Rows.Select(r => (string)r[0]!).Order());
    }

    // A table of one category alone: every show has all eight kinds, so the kinds are settings, each learned apart. There is no curve, and that is said.
    [Fact]
    public async Task Calibration_SettingsAlone_SaysThatThereIsNoCurve()
    {
        string file = Path.Combine(folder, "kinds.csv");
        await File.WriteAllTextAsync(file, "show,kind,seconds_per_frame\n" + string.Concat(Enumerable.Range(0, 96)
            .Select(i => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"show {i / 8},kind {i % 8},{0.1 * (1 + (i % 8)) * (1 + (0.3 * Math.Sin(i / 8 * 2.4))):F4}\n"))));
        CalibrationLesson own = await CalibrationLesson.LearnAsync(file, "seconds_per_frame", string.Empty, "show", "kind", string.Empty);
        Assert.Contains("took kind as a setting", Assert.IsType<Markdown>(own.Dependence(string.Empty)).Text, StringComparison.Ordinal);
        Assert.Equal(Enumerable.Range(0, 8).Select(k => $"kind {k}"), (await own.BandsAsync("kind=kind 3", string.Empty)).Table.Rows.Select(r => (string)r[0]!));
    }

    // Whatever cannot be mapped or asked is named: the file, the line, the column or the part of the question.
    [Fact]
    public async Task Calibration_WhatCannotBe_IsNamedByFileLineAndColumn()
    {
        string file = Rows();
        BriefException refused = await Assert.ThrowsAsync<BriefException>(() => CalibrationLesson.LearnAsync(file, "hours", "count", "show", "kind", "megapixels, weather"));
        Assert.Equal([("target", "hours", 1L), ("numbers", "weather", 1L)], refused.Problems.Select(p => (p.Key, p.Value, p.Line)));
        Assert.All(refused.Problems, p => Assert.Equal((file, "the file has no such column; it has show, kind, megapixels, count, wall"), (p.File, p.Message)));
        Assert.StartsWith($"{file}:1: target = hours: ", refused.Message, StringComparison.Ordinal);

        string broken = Path.Combine(folder, "broken.csv");
        await File.WriteAllTextAsync(broken, (await File.ReadAllTextAsync(file)).Replace("show 0,master,4,", "show 0,master,wide,", StringComparison.Ordinal));
        refused = await Assert.ThrowsAsync<BriefException>(() => CalibrationLesson.LearnAsync(broken, "wall", "count", "show", "kind", "megapixels"));
        Assert.Equal((broken, 3L, "megapixels"), (refused.Problems[0].File, refused.Problems[0].Line, refused.Problems[0].Key));

        CalibrationLesson own = await CalibrationLesson.LearnAsync(file, "wall", "count", "show", "kind", "megapixels");
        Assert.Contains("with kind: 'hologram' was never measured", (await Assert.ThrowsAsync<BriefException>(() => own.PredictAsync("kind=hologram, megapixels=8"))).Message, StringComparison.Ordinal);
        Assert.Contains("with = codec: is no feature of these rows; allowed is one of kind, megapixels", (await Assert.ThrowsAsync<BriefException>(() => own.PredictAsync("codec=proxy"))).Message, StringComparison.Ordinal);
        Assert.Contains("along = weather", (await Assert.ThrowsAsync<BriefException>(() => own.BandsAsync("kind=proxy, megapixels=8", "weather"))).Message, StringComparison.Ordinal);
        Assert.Contains("along = weather", Assert.Throws<BriefException>(() => own.Dependence("weather")).Message, StringComparison.Ordinal);
    }

    private static Task<CalibrationLesson> LearnAsync(string file) =>
        CalibrationLesson.LearnAsync(file, "wall_seconds", "frames", "project", "output_coding", "input_width, input_height");

    // Ten shows, three sizes, two kinds; shows differ by a tenth at most.
    private string Rows()
    {
        System.Text.StringBuilder text = new("show,kind,megapixels,count,wall\n");
        for (int show = 0; show < 10; show++)
        {
            for (int size = 1; size <= 3; size++)
            {
                foreach ((string kind, double cost) in new[] { ("proxy", 0.01), ("master", 0.05) })
                {
                    text.Append(System.Globalization.CultureInfo.InvariantCulture, $"show {show},{kind},{size * 4},240,{240 * size * 4 * cost * (1 + (0.1 * Math.Sin(show * 2.4))):F4}\n");
                }
            }
        }

        string file = Path.Combine(folder, "rows.csv");
        File.WriteAllText(file, text.ToString());
        return file;
    }
}
