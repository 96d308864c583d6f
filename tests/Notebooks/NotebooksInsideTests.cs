using PostPipeline.Notebooks.Charts;
using PostPipeline.Notebooks.Documents;
using PostPipeline.Notebooks.Lessons;
using PostPipeline.Notebooks.Tests.Support;
using Xunit;

namespace PostPipeline.Notebooks.Tests;

/// <summary>The notebooks that travel inside the program: their shape and their headline numbers. That they run is held by the tests of their reports, pages and kernel.</summary>
[Collection(SuiteTests.Name)]
public sealed class NotebooksInsideTests : SuiteTests
{
    public static TheoryData<string> All => [.. NotebookFile.NamesInside];

    [Theory]
    [MemberData(nameof(All))]
    public void Notebook_IsShortAsksAQuestionAndDeclaresWhatItsCellsRead(string name)
    {
        NotebookFile notebook = NotebookFile.Inside(name);
        NotebookCell[] code = [.. notebook.Cells.Where(c => c.IsCode)];
        Assert.EndsWith("?", notebook.Title, StringComparison.Ordinal);
        Assert.InRange(code.Length, 2, 15);
        Assert.All(code, cell => Assert.InRange(cell.Source.Split('\n').Length, 1, 15));
        Assert.Single(code, cell => cell.Has(NotebookCell.ParametersTag));
        Assert.All(code.Where(c => !c.Has(NotebookCell.ParametersTag)), cell => Assert.DoesNotContain("Parameter.", cell.Source, StringComparison.Ordinal));
        Assert.Contains(code, cell => cell.Source.Contains("new Caution(", StringComparison.Ordinal));
        NotebookCell conclusion = notebook.Cells.Last(c => !c.IsCode);
        Assert.Matches(@"^## Conclusion\s+\S.{40,}", conclusion.Source);
        string parameters = notebook.Parameters!.Source;
        Assert.All(code.SelectMany(c => c.Reads ?? []), read => Assert.Contains($"\"{read}\"", parameters, StringComparison.Ordinal));
    }

    // Common practice, no source: 4096 × 2160, 12-bit raw 3:1 on a 512 GB card rated 450 MB/s of which 85 % is trusted.
    // Bytes a frame = 4096·2160·12/8/3 = 4,423,680. At 24 frames/s 512 GB last 80.38 min; at 96 frames/s 20.09 min, screen
    // time 80.38 min, 424.67 MB/s against 382.5 MB/s: over the ceiling, 86 frames/s at most, or at least 3.3308:1, which is shown as 3.34:1 because 3.33 would fail.
    [Theory]
    [InlineData(24, 106.168, 80.38, 80.38)]
    [InlineData(96, 424.673, 20.09, 80.38)]
    public async Task Recording_WorkedExample_IsReproduced(double rate, double megabytes, double recorded, double screen)
    {
        RecordingLesson lesson = await RecordingLesson.AskAsync(new("4096 × 2160", 12, 3, rate, 24), new(512, 450, 0.85, 0, 0, "unknown"));
        Assert.Equal(4_423_680, lesson.Rate.BytesPerFrame);
        Assert.Equal(megabytes, lesson.Assessment.NeededBytesPerSecond / 1e6, 0.0005);
        Assert.Equal(recorded, lesson.Assessment.RecordSeconds / 60, 0.005);
        Assert.Equal(screen, lesson.Assessment.ScreenSeconds / 60, 0.005);
        if (rate == 96)
        {
            Assert.Equal(86, lesson.Assessment.SustainableFramesPerSecond);
            Assert.Equal(3.34, lesson.Assessment.NeededRatio, 1e-9);
        }

    }

    // Common practice, no source: 4 bits a pixel are 3:1 of 12-bit photosites, 4:1 of 16-bit ones, 5:1 of 10-bit 4:2:2 and 9:1 of
    // 12-bit 4:4:4. One rate, four ratios.
    [Fact]
    public async Task Ratios_OneRate_IsAnotherRatioAgainstEachBase()
    {
        RecordingLesson lesson = await RecordingLesson.AskAsync(new("4096 × 2160", 12, 3, 24, 24), new(512, 450, 0.85, 0, 0, "unknown"));
        Assert.Equal(4, lesson.Rate.BitsPerPixel);
        NumberTable ratios = await lesson.RatiosAsync();
        Assert.Equal(["12-bit photosites", "16-bit photosites", "10-bit 4:2:2", "12-bit 4:4:4"], ratios.Rows.Select(r => (string)r[0]!));
        Assert.Equal([3.0, 4.0, 5.0, 9.0], ratios.Rows.Select(r => (double)r[2]!));
    }

    // Common practice, no source: uncompressed 480 frames/s, a buffer of 96 GB, 900 MB/s written: 17.55 s where the window
    // starts at the press, 16.22 s half-way, 15.07 s where it ends there, and 15.07 s anywhere where nothing drains.
    [Theory]
    [InlineData(0, "while recording", 17.55)]
    [InlineData(0.5, "while recording", 16.22)]
    [InlineData(1, "while recording", 15.07)]
    [InlineData(0.5, "only after", 15.07)]
    [InlineData(0, "unknown", 15.07)]
    public async Task Burst_WorkedExample_IsReproduced(double trigger, string drains, double seconds)
    {
        RecordingLesson lesson = await RecordingLesson.AskAsync(new("4096 × 2160", 12, 1, 480, 24), new(2_000, 900, 1, 96, trigger, drains));
        Assert.Equal(seconds, lesson.Assessment.Burst.WindowSeconds, 0.005);
        Assert.Equal(trigger * lesson.Assessment.Burst.WindowSeconds, lesson.Assessment.Burst.SecondsBeforePress, 1e-6);
    }

    // Common practice, no source: 96 frames/s on base 24 from 10:00:00:00 for 30 s are 2,880 frames, one label each, to
    // 10:02:00:00; a clip of 1,440 frames at 10:01:00:00 shares 1,440 labels with it.
    [Fact]
    public async Task OffSpeed_WorkedExample_IsReproduced()
    {
        OffSpeedLesson lesson = await OffSpeedLesson.AskAsync(new(96, 24, 30, "10:00:00:00", "10:01:00:00", 1_440, "one label a frame"));
        Assert.Contains("2,880 frames in 30 s, 120 s on screen", lesson.Answer.Text, StringComparison.Ordinal);
        Assert.Contains("10:00:00:00 to 10:02:00:00, **1,440 labels used twice**", lesson.Answer.Text, StringComparison.Ordinal);
        Assert.Contains("share 1,440 labels", (await lesson.StripAsync()).Summary, StringComparison.Ordinal);
    }

    // Common practice, no source: 98 min = 141,120 frames in 1,450 events with 16-frame handles are 187,520 frames, 0.830 TB
    // of 4,423,680 B a frame. Whole clips: 1,450 × 240 s × 24 = 8,352,000 frames, 36.947 TB. OpenEXR half RGB of 4096 × 2160
    // is 53,084,160 B of samples; the OpenEXR layout adds 8 B a line in the table of offsets and 8 B before each line, and the
    // catalogue's header is 400 B.
    [Fact]
    public async Task Pull_WorkedExample_IsReproduced()
    {
        PullLesson lesson = await PullLesson.AskAsync(new(98, 1_450, 16, 240, 4096, 2160));
        Assert.Equal(0, lesson.Summary.EventsForPerson);
        Assert.Equal(187_520, lesson.Summary.PullIfTrimmed.Frames);
        Assert.Equal(187_520L * 4_423_680, lesson.Summary.PullIfTrimmed.Bytes);
        Assert.Equal(8_352_000L * 4_423_680, lesson.Summary.PullIfWhole.Bytes);
        Assert.Equal(187_520L * (53_084_160 + (2_160 * 16) + 400), lesson.SequenceBytes);
        Assert.Contains("**0.830 TB**", lesson.Answer.Text, StringComparison.Ordinal);
    }

    // Common practice, no source: at 8 characters KESTREL_07 and KESTREL_08 merge; at 12 they do not.
    [Theory]
    [InlineData(8, 2, true)]
    [InlineData(12, 1, false)]
    public async Task Reels_CutOff_MergeOrStayApart(int characters, int candidates, bool person)
    {
        ReelLesson lesson = await ReelLesson.AskAsync("KESTREL_07", "KESTREL_08", characters);
        Assert.Equal(2, lesson.Answer.Events.Count);
        Assert.All(lesson.Answer.Events, e => Assert.Equal((candidates, person), (e.Candidates, e.NeedsPerson)));
    }

    // Common practice, no source: 512 GB, reader 800, destinations 1,200/450/250 MB/s, verified at the same rates: 68.3 min;
    // third destination at 900: 37.9 min; reader at 1,600: unchanged. Three such cards on two stations: 2 × 68.27 = 136.5 min.
    [Fact]
    public async Task Offload_WorkedExample_IsReproduced()
    {
        OffloadBench bench = new(512, 800, 1_200, 450, 250, 2, 3);
        Assert.Equal(68.27, await OffloadLesson.CardMinutesAsync(bench), 0.01);
        Assert.Equal(37.93, await OffloadLesson.CardMinutesAsync(bench with { Third = 900 }), 0.01);
        Assert.Equal(68.27, await OffloadLesson.CardMinutesAsync(bench with { Reader = 1_600 }), 0.01);
        Assert.Equal(136.53, await new OffloadLesson(bench).AfterWrapMinutesAsync(), 0.01);

        // Doubling the fastest link (1,200 MB/s) buys nothing; replacing the slowest does; the reader buys nothing after that either.
        Assert.Equal([68.27, 68.27, 37.93, 37.93], (await new OffloadLesson(bench).PurchasesAsync()).Select(c => Math.Round(c.Minutes, 2)));
    }

    // Copies compared with the first read, or with each other, agree and are wrong; only another read of the card, or hashes
    // made by the camera, show it. The copies hold what the camera did not write in every row.
    [Fact]
    public void BadRead_ComparedWithTheFirstRead_IsBlessed()
    {
        NumberTable table = OffloadLesson.BadRead();
        Assert.Equal(["yes", "yes", "no", "no"], table.Rows.Select(r => (string)r[3]!));
        Assert.All(table.Rows, r => Assert.Equal("no", (string)r[4]!));
        Assert.All(table.Rows, r => Assert.Equal((string)r[3]! == "yes", (string)r[1]! == (string)r[2]!));
    }

    // Twice the ratio is twice the recorded hours: originals, mezzanine, caches and proxies double, renders and the pull do not.
    [Fact]
    public async Task Storage_TwiceTheRatio_DoublesWhatIsRecordedAndNotTheRenders()
    {
        StorageLesson once = await StorageLesson.AskAsync(110 / 60.0 * 25);
        StorageLesson twice = await StorageLesson.AskAsync(110 / 60.0 * 50);
        double[] fixedTerabytes = [2, 2, 4.83];
        Assert.All(Enumerable.Range(0, 3), i =>
        {
            Assert.Equal((2 * (once.Peaks[i].Online - fixedTerabytes[i])) + fixedTerabytes[i], twice.Peaks[i].Online, 1e-9);
            Assert.Equal(2 * once.Peaks[i].Nearline, twice.Peaks[i].Nearline, 1e-9);
        });
    }

    // The loop follows the cards of the offload simulation: a card is pulled, copied, verified and back in that order, one
    // station has one card at a time, and the last card is verified when the summary says so.
    [Fact]
    public async Task Loop_OfCards_KeepsItsOrder()
    {
        Figure loop = await new OffloadLesson(new(512, 800, 1_200, 450, 250, 2, 3)).LoopAsync(3);
        Assert.NotNull(loop.Play);
        var bars = loop.Table.Rows.Select(r => (Lane: (string)r[0]!, State: (string)r[1]!, Start: (double)r[2]!, End: (double)r[3]!)).ToArray();
        Assert.Equal(9, bars.Select(b => b.Lane).Distinct().Count());
        Assert.All(bars.GroupBy(b => b.Lane), lane =>
        {
            Assert.Equal(lane.Select(b => b.Start), lane.Select(b => b.Start).Order());
            Assert.All(lane.Zip(lane.Skip(1)), pair => Assert.Equal(pair.First.End, pair.Second.Start, 1e-9));
        });
        Assert.All(bars.Where(b => b.State == "copied"), one => Assert.InRange(bars.Count(b => b.State == "copied" && b.Start <= one.Start && one.Start < b.End), 1, 2));
    }

    // Common practice, no source: 187.5 recorded hours of the reference clip are 71.663616 TB; native 84.41 TB online,
    // transcode 60.99 online and 71.66 nearline, proxy 7.88 online and 71.66 nearline.
    [Fact]
    public async Task Storage_WorkedExample_IsReproduced()
    {
        StorageLesson lesson = await StorageLesson.AskAsync(187.5);
        (double Online, double Nearline)[] expected = [(84.41, 0), (60.99, 71.66), (7.88, 71.66)];
        Assert.All(lesson.Peaks.Zip(expected), pair =>
        {
            Assert.Equal(pair.Second.Online, pair.First.Online, 0.005);
            Assert.Equal(pair.Second.Nearline, pair.First.Nearline, 0.005);
        });
    }

    // SMPTE ST 12-1: labels count 24 a second also where frames come at 24000/1001, so that an hour of labels lasts
    // 86,400 × 1001 / 24,000 = 3,603.6 s: 3.6 s an hour, 28.8 s in a day of eight.
    [Fact]
    public async Task Drift_OfAnHourOfLabels_IsThreePointSixSeconds()
    {
        Figure drift = await OffSpeedLesson.DriftAsync(8);
        double[] Of(string rate) => [.. drift.Table.Rows.Where(r => (string)r[0]! == rate).Select(r => (double)r[2]!)];
        Assert.All(Of("24"), seconds => Assert.Equal(0, seconds, 1e-12));
        Assert.Equal(Enumerable.Range(0, 9).Select(hour => 3.6 * hour), Of("24000/1001").Select(s => Math.Round(s, 9)));
    }
}
