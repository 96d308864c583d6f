using System.CommandLine;
using System.Globalization;
using PostPipeline.Cli.Commands.Footage;
using PostPipeline.Cli.Frame;
using PostPipeline.Quantities;
using PostPipeline.Studies.Printing;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.RenderTimes;

/// <summary><c>measure</c>: real transcodes of synthetic pictures on this machine, as rows for train.</summary>
internal static class MeasureCommand
{
    private static readonly Option<string[]> Rasters = new("--rasters") { Description = "Rasters to measure.", DefaultValueFactory = _ => ["960x540", "1920x1080"], AllowMultipleArgumentsPerToken = true, HelpName = "WxH" };
    private static readonly Option<string[]> Codings = new("--codings") { Description = $"Codings to write: {string.Join(", ", FfmpegTranscoder.Codings)}.", DefaultValueFactory = _ => ["h264", "mpeg2", "jpeg2000"], AllowMultipleArgumentsPerToken = true, HelpName = "CODING" };
    private static readonly Option<int[]> Threads = new("--threads") { Description = "Numbers of threads to measure.", DefaultValueFactory = _ => [1, 2], AllowMultipleArgumentsPerToken = true, HelpName = "N" };
    private static readonly Option<int> Frames = new("--frames") { Description = "Frames of each transcode, 4 to 10,000.", DefaultValueFactory = _ => 48, HelpName = "N" };
    private static readonly Option<string?> Out = Given.Needed("--out", "File of rows to write.", "FILE");

    private sealed record Result(int Rows, int Frames, IReadOnlyList<Cell> Medians);

    private sealed record Cell(string Raster, string Coding, int Threads, double SecondsPerFrame, double LongestOverShortest);

    public static Command Create() => new Command("measure", "Measure real transcodes of synthetic pictures on this machine with ffmpeg; writes rows for train.")
    {
        Rasters, Codings, Threads, Frames, Out,
    }.Runs(RunAsync);

    private static async Task<int> RunAsync(Session session)
    {
        Raster[] rasters = [.. session.Line.GetValue(Rasters)!.Select(text => Raster.TryParse(text, out Raster raster) && raster.Width % 2 == 0 && raster.Height % 2 == 0
            ? raster
            : throw Given.Refused("--rasters", text, "allowed is width x height in even pixels, such as 1920x1080"))];
        foreach (string coding in session.Line.GetValue(Codings)!.Where(c => !FfmpegTranscoder.Codings.Contains(c)))
        {
            throw Given.Refused("--codings", coding, $"allowed are {string.Join(", ", FfmpegTranscoder.Codings)}");
        }

        foreach (int threads in session.Line.GetValue(Threads)!.Where(t => t is < 1 or > 1_024))
        {
            throw Given.Refused("--threads", threads.ToString(CultureInfo.InvariantCulture), "allowed is 1 to 1024");
        }

        int frames = session.Line.GetValue(Frames) is >= 4 and <= 10_000 and int given
            ? given
            : throw Given.Refused("--frames", session.Line.GetValue(Frames).ToString(CultureInfo.InvariantCulture), "allowed is 4 to 10000");
        string full = Path.GetFullPath(session.Line.GetValue(Out)!);
        OutputFolder folder = OutputFolder.Open(Path.GetDirectoryName(full)!);
        TranscodeDesign design = new(rasters, session.Line.GetValue(Codings)!, session.Line.GetValue(Threads)!, frames);
        FfmpegTranscoder transcoder = new("ffmpeg", session.Cancellation);
        IReadOnlyList<TranscodeDesign.Row> rows = await session.ProgressAsync("measuring", progress => design.RunAsync(transcoder, progress)).ConfigureAwait(false);
        folder.Write(Path.GetFileName(full), TranscodeDesign.Csv(rows));
        Result result = new(rows.Count, frames, [.. rows.GroupBy(r => (r.Raster, r.Coding, r.Threads)).Select(g =>
        {
            double[] perFrame = [.. g.Select(r => r.Seconds / r.Frames)];
            return new Cell(g.Key.Raster.ToString(), g.Key.Coding, g.Key.Threads, Quantiles.Of(perFrame, 0.5), perFrame.Max() / perFrame.Min());
        })]);
        return session.Answer("postpipeline.measure/1", result, console => Print(console, result));
    }

    private static void Print(IAnsiConsole console, Result result)
    {
        Table table = new Table().AddColumn("raster").AddColumn("coding").AddColumn(new TableColumn("threads").RightAligned()).AddColumn(new TableColumn("s per frame, median").RightAligned()).AddColumn(new TableColumn("longest ÷ shortest").RightAligned());
        foreach (Cell cell in result.Medians)
        {
            table.AddRow(cell.Raster, cell.Coding, $"{cell.Threads}", Numbers.Three(cell.SecondsPerFrame), Numbers.Three(cell.LongestOverShortest));
        }

        console.Write(table);
        console.WriteLine($"{result.Rows} rows of {result.Frames} frames written; each time holds the start of ffmpeg as well. Synthetic pictures: real footage differs.");
    }
}
