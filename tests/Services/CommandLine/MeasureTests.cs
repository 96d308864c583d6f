using PostPipeline.Cli.Commands.RenderTimes;
using PostPipeline.Cli.Frame;
using PostPipeline.Quantities;
using Xunit;

namespace PostPipeline.Services.Tests.CommandLine;

/// <summary>The design that measure runs, its progress and its time left, with a transcoder and a clock made here.</summary>
public class MeasureTests
{
    private static readonly TranscodeDesign Design = new([Raster.From(64, 48), Raster.From(128, 96)], ["mpeg2"], [1, 2], 10);

    // Derived: three patterns, two rasters, one coding, two numbers of threads, three repeats are 36; of the pixels the small
    // raster has a fifth, so after the first pattern's six small ones 1/15 is done, and after its large ones a third.
    [Fact]
    public async Task RunAsync_TwoRasters_RowForEachRepeatAndProgressByPixels()
    {
        Transcoder transcoder = new(_ => { });
        Parts parts = new();
        IReadOnlyList<TranscodeDesign.Row> rows = await Design.RunAsync(transcoder, parts);
        Assert.Equal(36, rows.Count);
        Assert.Equal(36, rows.Select(r => (r.Pattern, r.Raster, r.Coding, r.Threads, r.Repeat)).Distinct().Count());
        Assert.Equal(6, transcoder.Sources);
        Assert.Equal(36, parts.Seen.Count);
        Assert.Equal(1 / 15.0, parts.Seen[5], 1e-12);
        Assert.Equal(1 / 3.0, parts.Seen[11], 1e-12);
        Assert.Equal(1, parts.Seen[^1], 1e-12);
        Assert.Equal(parts.Seen.Order(), parts.Seen);
        Assert.False(Directory.Exists(transcoder.Folder));
        string[] csv = TranscodeDesign.Csv(rows).Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal(37, csv.Length);
        Assert.Equal("synthetic testsrc2,intra,64,48,mpeg2,1,10,1,2.0000,0.2", csv[1]);
    }

    // Derived: with one raster and 18 transcodes of two seconds each, a line comes after the first second and then every ten.
    // After 1 s nothing is done and no time left is claimed; after 11 s five are: 28 %, and at that pace 28.6 s are left.
    [Fact]
    public async Task RunAsync_UnderAProgressLine_SaysHowFarAndHowLongYet()
    {
        TurnedClock clock = new();
        StringWriter log = new() { NewLine = "\n" };
        using (ProgressLine line = new(log, "measuring", clock))
        {
            await (Design with { Rasters = [Raster.From(64, 48)] }).RunAsync(new Transcoder(_ => clock.Turn(TimeSpan.FromSeconds(2))), line);
        }

        clock.Turn(TimeSpan.FromMinutes(1));
        Assert.Equal(
            "measuring: 0 % after 1 s\nmeasuring: 28 % after 11 s, about 29 s left\nmeasuring: 56 % after 21 s, about 17 s left\nmeasuring: 83 % after 31 s, about 6 s left\n",
            log.ToString());
    }

    [Fact]
    public async Task RunAsync_StoppedInTheMiddle_LeavesNoSourceBehind()
    {
        using CancellationTokenSource stop = new();
        Transcoder transcoder = new(number =>
        {
            if (number == 8)
            {
                stop.Cancel();
            }

            stop.Token.ThrowIfCancellationRequested();
        });
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => Design.RunAsync(transcoder, new Parts()));
        Assert.Equal(8, transcoder.Transcodes);
        Assert.False(Directory.Exists(transcoder.Folder));
    }

    [Fact]
    public async Task MakeSource_ProgramNotThere_SaysWhatIsNeeded()
    {
        FfmpegTranscoder transcoder = new("no-program-of-this-name", default);
        IOException error = await Assert.ThrowsAsync<IOException>(() => transcoder.MakeSourceAsync("life", Raster.From(64, 48), 4, "source.avi"));
        Assert.Equal("no-program-of-this-name is not installed on this machine, or not on the PATH; measure needs it", error.Message);
    }

    private sealed class Parts : IProgress<double>
    {
        public List<double> Seen { get; } = [];

        public void Report(double value) => Seen.Add(value);
    }

    private sealed class Transcoder(Action<int> during) : ITranscoder
    {
        public string? Folder { get; private set; }

        public int Sources { get; private set; }

        public int Transcodes { get; private set; }

        public Task MakeSourceAsync(string pattern, Raster raster, int frames, string path)
        {
            Folder = Path.GetDirectoryName(path);
            File.WriteAllText(path, pattern);
            Sources++;
            return Task.CompletedTask;
        }

        public Task<double> TranscodeAsync(string source, string coding, int threads)
        {
            Assert.True(File.Exists(source));
            during(++Transcodes);
            return Task.FromResult(2.0);
        }
    }
}
