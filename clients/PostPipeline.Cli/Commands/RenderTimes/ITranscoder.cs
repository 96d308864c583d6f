using PostPipeline.Quantities;

namespace PostPipeline.Cli.Commands.RenderTimes;

/// <summary>What makes pictures and transcodes them, so that the design can be run without it.</summary>
internal interface ITranscoder
{
    /// <summary>Writes a source of synthetic pictures.</summary>
    Task MakeSourceAsync(string pattern, Raster raster, int frames, string path);

    /// <summary>Transcodes a source to nowhere and returns the seconds that it took.</summary>
    Task<double> TranscodeAsync(string source, string coding, int threads);
}
