using System.CommandLine;
using System.ComponentModel;
using System.Diagnostics;
using System.Globalization;
using System.Text;
using PostPipeline.Cli.Commands.Footage;
using PostPipeline.Cli.Frame;
using PostPipeline.Quantities;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.RenderTimes;

/// <summary><c>measure</c>: real transcodes of synthetic pictures on this machine, as rows for train.</summary>
internal static class MeasureCommand
{
    private const int Repeats = 3;

    // Encoders of ffmpeg by the standard that they write.
    private static readonly Dictionary<string, string[]> Encoders = new(StringComparer.Ordinal)
    {
        ["h264"] = ["libx264", "-preset", "medium"],
        ["h265"] = ["libx265", "-preset", "fast", "-x265-params", "log-level=error"],
        ["mpeg2"] = ["mpeg2video", "-q:v", "3"],
        ["jpeg2000"] = ["jpeg2000", "-q:v", "5"],
        ["ffv1"] = ["ffv1", "-level", "3"],
    };

    private static readonly string[] Patterns = ["testsrc2", "mandelbrot", "life"];

    private static readonly Option<string[]> Rasters = new("--rasters") { Description = "Rasters to measure.", DefaultValueFactory = _ => ["960x540", "1920x1080"], AllowMultipleArgumentsPerToken = true, HelpName = "WxH" };
    private static readonly Option<string[]> Codings = new("--codings") { Description = $"Codings to write: {string.Join(", ", Encoders.Keys)}.", DefaultValueFactory = _ => ["h264", "mpeg2", "jpeg2000"], AllowMultipleArgumentsPerToken = true, HelpName = "CODING" };
    private static readonly Option<int[]> Threads = new("--threads") { Description = "Numbers of threads to measure.", DefaultValueFactory = _ => [1, 2], AllowMultipleArgumentsPerToken = true, HelpName = "N" };
    private static readonly Option<int> Frames = new("--frames") { Description = "Frames of each transcode, 4 to 10,000.", DefaultValueFactory = _ => 48, HelpName = "N" };
    private static readonly Option<string?> Out = Given.Needed("--out", "File of rows to write.", "FILE");

    private sealed record Row(string Pattern, Raster Raster, string Coding, int Threads, int Frames, int Repeat, double Seconds);

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
        foreach (string coding in session.Line.GetValue(Codings)!.Where(c => !Encoders.ContainsKey(c)))
        {
            throw Given.Refused("--codings", coding, $"allowed are {string.Join(", ", Encoders.Keys)}");
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
        List<Row> rows = await session.ProgressAsync("measuring", progress => Measure(session, rasters, frames, progress)).ConfigureAwait(false);
        folder.Write(Path.GetFileName(full), Csv(rows));
        Result result = new(rows.Count, frames, [.. rows.GroupBy(r => (r.Raster, r.Coding, r.Threads)).Select(g =>
        {
            double[] perFrame = [.. g.Select(r => r.Seconds / r.Frames)];
            return new Cell(g.Key.Raster.ToString(), g.Key.Coding, g.Key.Threads, Quantiles.Of(perFrame, 0.5), perFrame.Max() / perFrame.Min());
        })]);
        return session.Answer("postpipeline.measure/1", result, console => Print(console, result));
    }

    private static async Task<List<Row>> Measure(Session session, Raster[] rasters, int frames, IProgress<double> progress)
    {
        List<Row> rows = [];
        string[] codings = session.Line.GetValue(Codings)!;
        int[] threads = session.Line.GetValue(Threads)!;
        double all = (double)Patterns.Length * rasters.Length * codings.Length * threads.Length * Repeats;
        DirectoryInfo temporary = Directory.CreateTempSubdirectory("postpipeline-measure");
        try
        {
            foreach (string pattern in Patterns)
            {
                foreach (Raster raster in rasters)
                {
                    // The source is made once, so that what is timed is a transcode and not the making of pictures.
                    string source = Path.Combine(temporary.FullName, "source.avi");
                    await Run(session, ["-y", "-f", "lavfi", "-i", $"{pattern}=size={raster.Width}x{raster.Height}:rate=24", "-frames:v", $"{frames}", "-pix_fmt", "yuvj420p", "-c:v", "mjpeg", "-q:v", "3", source]).ConfigureAwait(false);
                    foreach (string coding in codings)
                    {
                        foreach (int count in threads)
                        {
                            for (int repeat = 1; repeat <= Repeats; repeat++)
                            {
                                double seconds = await Run(session, ["-threads", $"{count}", "-i", source, "-threads", $"{count}", "-pix_fmt", "yuv420p", "-c:v", .. Encoders[coding], "-f", "null", "-"]).ConfigureAwait(false);
                                rows.Add(new(pattern, raster, coding, count, frames, repeat, seconds));
                                progress.Report(rows.Count / all);
                            }
                        }
                    }
                }
            }
        }
        finally
        {
            temporary.Delete(recursive: true);
        }

        return rows;
    }

    private static async Task<double> Run(Session session, string[] arguments)
    {
        Stopwatch watch = Stopwatch.StartNew();
        using Process process = Start(arguments);
        try
        {
            string error = await process.StandardError.ReadToEndAsync(session.Cancellation).ConfigureAwait(false);
            await process.WaitForExitAsync(session.Cancellation).ConfigureAwait(false);
            return process.ExitCode == 0 ? watch.Elapsed.TotalSeconds : throw new IOException($"ffmpeg ended with {process.ExitCode}: {error.Trim()}");
        }
        finally
        {
            if (!process.HasExited)
            {
                process.Kill();
            }
        }
    }

    private static Process Start(string[] arguments)
    {
        try
        {
            return Process.Start(new ProcessStartInfo("ffmpeg", ["-nostdin", "-v", "error", .. arguments]) { RedirectStandardError = true })!;
        }
        catch (Win32Exception)
        {
            throw new IOException("ffmpeg is not installed on this machine, or not on the PATH; measure needs it");
        }
    }

    private static string Csv(List<Row> rows)
    {
        StringBuilder text = new("project,input_coding,input_width,input_height,output_coding,threads,frames,repeat,wall_seconds,seconds_per_frame\n");
        foreach (Row r in rows)
        {
            text.Append(CultureInfo.InvariantCulture, $"synthetic {r.Pattern},intra,{r.Raster.Width},{r.Raster.Height},{r.Coding},{r.Threads},{r.Frames},{r.Repeat},{r.Seconds:F4},{r.Seconds / r.Frames:G6}\n");
        }

        return text.ToString();
    }

    private static void Print(IAnsiConsole console, Result result)
    {
        Table table = new Table().AddColumn("raster").AddColumn("coding").AddColumn(new TableColumn("threads").RightAligned()).AddColumn(new TableColumn("s per frame, median").RightAligned()).AddColumn(new TableColumn("longest ÷ shortest").RightAligned());
        foreach (Cell cell in result.Medians)
        {
            table.AddRow(cell.Raster, cell.Coding, $"{cell.Threads}", Given.Three(cell.SecondsPerFrame), Given.Three(cell.LongestOverShortest));
        }

        console.Write(table);
        console.WriteLine($"{result.Rows} rows of {result.Frames} frames written; each time holds the start of ffmpeg as well. Synthetic pictures: real footage differs.");
    }
}
