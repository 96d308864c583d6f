using PostPipeline.Quantities;

namespace PostPipeline.Studies.Briefs;

/// <summary>What a transcode pipeline works in.</summary>
/// <param name="Raster">Pixels.</param>
/// <param name="Depth">Bits per value.</param>
/// <param name="Sampling">444, 422 or 420.</param>
/// <param name="BitsPerPixel">Stored bits per pixel.</param>
public sealed record Mezzanine(
    Raster Raster,
    int Depth,
    string Sampling,
    double BitsPerPixel);
