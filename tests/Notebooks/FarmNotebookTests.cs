using PostPipeline.Notebooks.Charts;
using PostPipeline.Notebooks.Lessons;
using PostPipeline.Notebooks.Tests.Support;
using Xunit;

namespace PostPipeline.Notebooks.Tests;

/// <summary>The headline numbers of the notebooks about a farm: its size, its tasks, its ceiling, its calibration.</summary>
[Collection(SuiteTests.Name)]
public sealed class FarmNotebookTests : SuiteTests
{
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
        CalibrationLesson invented = await CalibrationLesson.LearnAsync(string.Empty);
        Assert.Contains("48 rows of 12 projects, **invented**", invented.Answer.Text, StringComparison.Ordinal);
        Assert.True(invented.Record.Model.HeldOutMedianPercent < invented.Record.Model.BaselineMedianPercent / 2);
        var one = await invented.PredictAsync("mezzanine", 3840, 2160);
        Assert.InRange(one.SecondsPerFrame, 0.249 * 0.85, 0.249 * 1.15);
        Assert.False(one.IntervalRefused);
        Assert.InRange(0.249, one.LowSecondsPerFrame, one.HighSecondsPerFrame);
        string answer = (await invented.SizeAsync("mezzanine", 648_000, 10, 0.9)).Answer.Text;
        double division = double.Parse(answer.Split("**")[1], System.Globalization.CultureInfo.InvariantCulture);
        Assert.Equal(((648_000 * one.SecondsPerFrame) + (540 * 30)) / 36_000, division, 0.01 * division);
        Assert.True(int.Parse(answer.Split("with 90 %, **")[1].Split('*')[0], System.Globalization.CultureInfo.InvariantCulture) > division);

        // The same rows from a file are somebody's own, and not called invented.
        CalibrationLesson own = await CalibrationLesson.LearnAsync(file);
        Assert.DoesNotContain("invented", own.Answer.Text, StringComparison.Ordinal);
        Assert.Equal(one.SecondsPerFrame, (await own.PredictAsync("mezzanine", 3840, 2160)).SecondsPerFrame, 1e-9);
    }
}
