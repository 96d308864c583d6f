using System.Globalization;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Printing;

namespace PostPipeline.Studies.Outcomes;

/// <summary>Facts about quality by pipeline: measured, computed from the modes, or "not measured".</summary>
internal static class QualityBuilder
{
    public static IReadOnlyList<QualityRow> Rows(PreparedStudy study, string name)
    {
        Brief brief = study.Brief;
        CaptureMode main = brief.Modes[0];
        bool mezzanine = name is "transcode" or "transcode-selects";
        (int width, int height, int depth, double bits, string sampling) = mezzanine
            ? (brief.Mezzanine.Raster.Width, brief.Mezzanine.Raster.Height, brief.Mezzanine.Depth, brief.Mezzanine.BitsPerPixel, brief.Mezzanine.Sampling)
            : (main.Raster.Width, main.Raster.Height, main.Depth, study.Strands.Count > 0 ? study.Strands[0].BytesPerFrame * 8.0 / main.Raster.Pixels : main.BitsPerPixel, main.Sampling);
        return
        [
            new("reframing headroom across", Numbers.Three((double)width / brief.Deliver.Raster.Width), "× of the master"),
            new("reframing headroom down", Numbers.Three((double)height / brief.Deliver.Raster.Height), "× of the master"),
            new("code values", Numbers.Exact(1L << depth), "values a channel, within one transfer curve and range"),
            new("chroma", sampling == "raw" ? "one value per photosite" : string.Create(CultureInfo.InvariantCulture, $"{sampling[0]}:{sampling[1]}:{sampling[2]}"), string.Empty),
            new("bits per pixel", Numbers.Three(bits), "bit/px in the material that is finished"),
            new("after recording", sampling == "raw" ? "white balance and sensitivity stay adjustable" : "white balance and sensitivity are baked in", string.Empty),
            new("lossy generations to the master", mezzanine ? "2–3" : "1–2", "by common practice, no source"),
            new("difference from the original", "not measured", "dB"),
            new("way back to the originals", mezzanine ? "recall from nearline and repeat the conform" : "the finish reads them", string.Empty),
        ];
    }
}
