using System.ComponentModel;
using System.Diagnostics;
using PostPipeline.Quantities;

namespace PostPipeline.Cli.Commands.RenderTimes;

/// <summary>Transcodes with ffmpeg, where it is installed.</summary>
/// <param name="program">The program.</param>
/// <param name="cancellation">Ends the running transcode.</param>
internal sealed class FfmpegTranscoder(string program, CancellationToken cancellation) : ITranscoder
{
    // Encoders of ffmpeg by the standard that they write.
    private static readonly Dictionary<string, string[]> Encoders = new(StringComparer.Ordinal)
    {
        ["h264"] = ["libx264", "-preset", "medium"],
        ["h265"] = ["libx265", "-preset", "fast", "-x265-params", "log-level=error"],
        ["mpeg2"] = ["mpeg2video", "-q:v", "3"],
        ["jpeg2000"] = ["jpeg2000", "-q:v", "5"],
        ["ffv1"] = ["ffv1", "-level", "3"],
    };

    /// <summary>What it can write.</summary>
    public static IReadOnlyCollection<string> Codings => Encoders.Keys;

    /// <inheritdoc/>
    public Task MakeSourceAsync(string pattern, Raster raster, int frames, string path) => RunAsync(
        ["-y", "-f", "lavfi", "-i", $"{pattern}=size={raster.Width}x{raster.Height}:rate=24", "-frames:v", $"{frames}", "-pix_fmt", "yuvj420p", "-c:v", "mjpeg", "-q:v", "3", path]);

    /// <inheritdoc/>
    public Task<double> TranscodeAsync(string source, string coding, int threads) => RunAsync(
        ["-threads", $"{threads}", "-i", source, "-threads", $"{threads}", "-pix_fmt", "yuv420p", "-c:v", .. Encoders[coding], "-f", "null", "-"]);

    private async Task<double> RunAsync(string[] arguments)
    {
        Stopwatch watch = Stopwatch.StartNew();
        using Process process = Start(arguments);
        try
        {
            string error = await process.StandardError.ReadToEndAsync(cancellation).ConfigureAwait(false);
            await process.WaitForExitAsync(cancellation).ConfigureAwait(false);
            return process.ExitCode == 0 ? watch.Elapsed.TotalSeconds : throw new IOException($"{program} ended with {process.ExitCode}: {error.Trim()}");
        }
        finally
        {
            if (!process.HasExited)
            {
                process.Kill();
                process.WaitForExit();
            }
        }
    }

    private Process Start(string[] arguments)
    {
        try
        {
            return Process.Start(new ProcessStartInfo(program, ["-nostdin", "-v", "error", .. arguments]) { RedirectStandardError = true })!;
        }
        catch (Win32Exception)
        {
            throw new IOException($"{program} is not installed on this machine, or not on the PATH; measure needs it");
        }
    }
}
