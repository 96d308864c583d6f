using System.Globalization;
using System.Text;
using PostPipeline.Quantities;

namespace PostPipeline.Cli.Commands.RenderTimes;

/// <summary>A small design of transcodes: every pattern × raster × coding × threads, each repeated.</summary>
/// <param name="Rasters">Rasters.</param>
/// <param name="Codings">Codings to write.</param>
/// <param name="Threads">Numbers of threads.</param>
/// <param name="Frames">Frames of each transcode.</param>
internal sealed record TranscodeDesign(IReadOnlyList<Raster> Rasters, IReadOnlyList<string> Codings, IReadOnlyList<int> Threads, int Frames)
{
    /// <summary>How often each is measured: the scatter of a machine shows in three.</summary>
    public const int Repeats = 3;

    private static readonly string[] Patterns = ["testsrc2", "mandelbrot", "life"];

    /// <summary>Runs the design.</summary>
    /// <param name="transcoder">What transcodes.</param>
    /// <param name="progress">The part done. Transcodes count by their pixels, so that the time left is that of the large rasters too.</param>
    /// <returns>A row for each transcode.</returns>
    public async Task<IReadOnlyList<Row>> RunAsync(ITranscoder transcoder, IProgress<double> progress)
    {
        List<Row> rows = [];
        double each = (double)Patterns.Length * Codings.Count * Threads.Count * Repeats;
        double all = each * Rasters.Sum(Pixels);
        double done = 0;
        DirectoryInfo temporary = Directory.CreateTempSubdirectory("postpipeline-measure");
        try
        {
            foreach (string pattern in Patterns)
            {
                foreach (Raster raster in Rasters)
                {
                    // The source is made once, so that what is timed is a transcode and not the making of pictures.
                    string source = Path.Combine(temporary.FullName, "source.avi");
                    await transcoder.MakeSourceAsync(pattern, raster, Frames, source).ConfigureAwait(false);
                    foreach ((string coding, int threads, int repeat) in Cells())
                    {
                        rows.Add(new(pattern, raster, coding, threads, Frames, repeat, await transcoder.TranscodeAsync(source, coding, threads).ConfigureAwait(false)));
                        done += Pixels(raster);
                        progress.Report(done / all);
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

    /// <summary>Rows as a file that train reads.</summary>
    /// <param name="rows">The rows.</param>
    public static string Csv(IEnumerable<Row> rows)
    {
        StringBuilder text = new("project,input_coding,input_width,input_height,output_coding,threads,frames,repeat,wall_seconds,seconds_per_frame\n");
        foreach (Row r in rows)
        {
            text.Append(CultureInfo.InvariantCulture, $"synthetic {r.Pattern},intra,{r.Raster.Width},{r.Raster.Height},{r.Coding},{r.Threads},{r.Frames},{r.Repeat},{r.Seconds:F4},{r.Seconds / r.Frames:G6}\n");
        }

        return text.ToString();
    }

    private static double Pixels(Raster raster) => (double)raster.Width * raster.Height;

    private IEnumerable<(string Coding, int Threads, int Repeat)> Cells() =>
        from coding in Codings from threads in Threads from repeat in Enumerable.Range(1, Repeats) select (coding, threads, repeat);

    /// <summary>One transcode.</summary>
    internal sealed record Row(string Pattern, Raster Raster, string Coding, int Threads, int Frames, int Repeat, double Seconds);
}
