using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Contracts.Types.V1;
using PostPipeline.Footage.Codings;
using PostPipeline.Footage.Rates;
using PostPipeline.Footage.Service.Shared;
using Coding = PostPipeline.Footage.Codings.Coding;
using FrameRate = PostPipeline.Quantities.FrameRate;
using Raster = PostPipeline.Quantities.Raster;
using RateEstimate = PostPipeline.Footage.Rates.RateEstimate;
using Trimmable = PostPipeline.Footage.Codings.Trimmable;

namespace PostPipeline.Footage.Service.Footage;

/// <summary>Writes codings of the catalogue, each with its bytes for one raster and rate.</summary>
internal static class CodingEntries
{
    private static readonly Raster Usual = Raster.From(1920, 1080);

    public static CodingEntry Of(Coding coding, Raster? raster, FrameRate rate, bool explain)
    {
        CodingEntry entry = new()
        {
            Name = coding.Id,
            Title = coding.Definition.Title,
            Kind = CodingText.Of(coding.Definition.Kind!.Value),
            Formula = coding.Formula,
            Source = coding.Source,
            Trimmable = coding.Definition.Trimmable switch { Trimmable.Yes => Verdict.Pass, Trimmable.No => Verdict.Fail, _ => Verdict.Unknown },
        };
        if (coding.Definition.Intra is { } intra)
        {
            entry.Intra = intra;
        }

        if (coding.OnlyRaster is { } only)
        {
            entry.OnlyRaster = Wire.Of(only);
        }

        RecordingMode mode = new(coding, raster ?? coding.OnlyRaster ?? Usual, rate);
        if (Estimate(mode) is { } estimate)
        {
            entry.BytesPerFrame = estimate.Frame.Average;
            entry.LowBytesPerFrame = estimate.Frame.Low;
            entry.PeakBytesPerFrame = estimate.Frame.Peak;
            entry.Derivation = explain ? Wire.Of(RateExplanation.OfFrame(mode, estimate)) : null;
        }

        return entry;
    }

    // Not every coding carries every raster and rate; that is an answer and not a fault of the request.
    private static RateEstimate? Estimate(RecordingMode mode)
    {
        try
        {
            return mode.Estimate();
        }
        catch (ArgumentOutOfRangeException)
        {
            return null;
        }
        catch (OverflowException)
        {
            return null;
        }
    }
}
