using PostPipeline.Studies.Briefs;

namespace PostPipeline.Studies.Preparing;

/// <summary>Asks for seconds per frame of each kind of work.</summary>
internal sealed class RenderTimeCalls(StudyServices services)
{
    public static readonly string[] ByMode = ["transcode", "proxy"];
    public static readonly string[] OfFinished = ["render-originals", "render-mezzanine"];

    public Task<(IReadOnlyList<JobFacts> Jobs, ModelFacts Model)> PredictAsync(
        Brief brief, FrameSizes sizes, BenchmarkFile? benchmarks, CancellationToken cancellation)
    {
        _ = services;
        cancellation.ThrowIfCancellationRequested();
        _ = benchmarks;
        return Task.FromResult(((IReadOnlyList<JobFacts>)BuiltIn(brief, sizes), new ModelFacts("built-in figures", string.Empty, true, "nothing was measured: whole-job figures by common practice, no source", double.NaN)));
    }

    /// <summary>
    /// Invented whole-job figures inside the ranges of common practice (no source) for 32 cores and one graphics card at
    /// about 4096×2160: original to HD proxy 0.01–0.05 s, to a UHD mezzanine 0.03–0.12 s, with spatial noise reduction
    /// 0.1–0.4 s, final render with temporal noise reduction 0.4–2.5 s. Scaled by pixels.
    /// </summary>
    private static List<JobFacts> BuiltIn(Brief brief, FrameSizes sizes)
    {
        const double Reference = 4096.0 * 2160;
        const double Spread = 0.35;
        List<JobFacts> jobs = [];
        string[] notes = ["built-in invented figure; bring benchmark rows of your own"];
        double proxyBytes = brief.Proxies.Rate.BytesPerSecond.ToDouble() / brief.Modes[0].ProjectRate.FramesPerSecond.ToDouble();
        foreach (CaptureMode mode in brief.Modes)
        {
            double pixels = mode.Raster.Pixels / Reference;
            double convert = brief.Farm.NoiseReduction switch { 0 => 0.06, 1 => 0.2, _ => 0.9 };
            jobs.Add(new("transcode", mode.Name, convert * pixels, Spread, sizes.Average[mode.Name], sizes.Mezzanine, true, notes));
            jobs.Add(new("proxy", mode.Name, 0.022 * pixels, Spread, sizes.Average[mode.Name], (long)proxyBytes, true, notes));
        }

        double master = brief.Deliver.Raster.Pixels / Reference;
        double render = brief.Finish.NoiseReduction switch { 0 => 0.15, 1 => 0.45, _ => 1.1 };
        jobs.Add(new("render-originals", string.Empty, render * master, Spread, sizes.Average[brief.Modes[0].Name], sizes.Master, true, notes));
        jobs.Add(new("render-mezzanine", string.Empty, 0.75 * render * master, Spread, sizes.Mezzanine, sizes.Master, true, notes));
        return jobs;
    }
}
