using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Footage.Codings;
using PostPipeline.Footage.Service.Shared;
using PostPipeline.Quantities;
using BitRateCoding = PostPipeline.Contracts.Footage.V1.BitRateCoding;
using BitsPerPixelCoding = PostPipeline.Contracts.Footage.V1.BitsPerPixelCoding;
using Coding = PostPipeline.Footage.Codings.Coding;
using CodingMessage = PostPipeline.Contracts.Footage.V1.Coding;
using Packing = PostPipeline.Footage.Codings.Packing;
using PackingMessage = PostPipeline.Contracts.Footage.V1.Packing;
using RationalMessage = PostPipeline.Contracts.Types.V1.Rational;
using Sampling = PostPipeline.Footage.Codings.Sampling;
using SamplingMessage = PostPipeline.Contracts.Footage.V1.Sampling;

namespace PostPipeline.Footage.Service.Footage;

/// <summary>Reads codings of one request; equal codings are made once.</summary>
internal sealed class CodingReader(CodingCatalogue catalogue)
{
    private readonly Dictionary<CodingMessage, Coding> made = [];
    private CodingMessage? last;
    private Coding? lastCoding;

    /// <summary>The coding of an item, or null with its problems.</summary>
    public Coding? Read(CodingMessage? message, ItemProblems problems)
    {
        if (message is null)
        {
            problems.Add("coding", "is not set");
            return null;
        }

        if (message.KindCase == CodingMessage.KindOneofCase.CatalogueName)
        {
            if (!catalogue.TryFind(message.CatalogueName, out Coding? named))
            {
                problems.Add("coding.catalogue_name", catalogue.NotFound(message.CatalogueName));
            }

            return named;
        }

        if (last is not null && last.Equals(message))
        {
            return lastCoding;
        }

        if (!made.TryGetValue(message, out Coding? coding) && Definition(message, problems) is { } definition)
        {
            foreach (FieldProblem problem in Coding.TryCreate(definition, out coding))
            {
                problems.Add($"coding.{FieldOf(message)}.{Renamed(message, problem.Field)}", problem.Message);
            }

            if (coding is not null)
            {
                made.Add(message, coding);
            }
        }

        (last, lastCoding) = coding is null ? (null, null) : (message, coding);
        return coding;
    }

    private static string FieldOf(CodingMessage message) => message.KindCase switch
    {
        CodingMessage.KindOneofCase.Uncompressed => "uncompressed",
        CodingMessage.KindOneofCase.Raw => "raw",
        CodingMessage.KindOneofCase.FixedFrame => "fixed_frame",
        CodingMessage.KindOneofCase.BitsPerPixel => "bits_per_pixel",
        _ => "bit_rate",
    };

    // Problems name the fields of a definition; callers know the fields of the message.
    private static string Renamed(CodingMessage message, string field) => (message.KindCase, field) switch
    {
        (CodingMessage.KindOneofCase.Raw, "stored_bits") => "carrier_bits",
        (CodingMessage.KindOneofCase.BitsPerPixel, "bits_per_pixel") => "average",
        (CodingMessage.KindOneofCase.BitsPerPixel, "bits_per_pixel_peak") => "peak",
        (CodingMessage.KindOneofCase.BitsPerPixel, "bits_per_pixel_low") => "low",
        (CodingMessage.KindOneofCase.BitRate, "bits_per_second") => "average_bits_per_second",
        (CodingMessage.KindOneofCase.BitRate, "peak_bits_per_second") => "peak_bits_per_second",
        _ => field,
    };

    private static CodingDefinition? Definition(CodingMessage message, ItemProblems problems)
    {
        CodingDefinition own = new() { Id = "request", Source = "as stated in the request" };
        switch (message.KindCase)
        {
            case CodingMessage.KindOneofCase.Uncompressed:
                return Uncompressed(own, message.Uncompressed, problems);
            case CodingMessage.KindOneofCase.Raw:
                RawCoding raw = message.Raw;
                Rational? ratio = Fraction("coding.raw.compression_ratio", raw.CompressionRatio, problems);
                return own with
                {
                    Kind = CodingKind.Photosites,
                    BitDepth = raw.BitDepth,
                    CompressionRatio = ratio == Rational.One ? null : ratio,
                    StoredBits = raw.CarrierBits == 0 ? null : raw.CarrierBits,
                };
            case CodingMessage.KindOneofCase.FixedFrame:
                // A size that holds for any raster is a constant of the request, not of a table.
                if (problems.InRange("coding.fixed_frame.bytes_per_frame", message.FixedFrame.BytesPerFrame, 1, 1L << 40))
                {
                    return own with { Kind = CodingKind.FixedFrame, FrameBytes = message.FixedFrame.BytesPerFrame };
                }

                return null;
            case CodingMessage.KindOneofCase.BitsPerPixel:
                BitsPerPixelCoding bits = message.BitsPerPixel;
                return own with
                {
                    Kind = CodingKind.BitsPerPixel,
                    BitsPerPixel = Fraction("coding.bits_per_pixel.average", bits.Average, problems),
                    BitsPerPixelPeak = Fraction("coding.bits_per_pixel.peak", bits.Peak, problems),
                    BitsPerPixelLow = Fraction("coding.bits_per_pixel.low", bits.Low, problems),
                };
            case CodingMessage.KindOneofCase.BitRate:
                BitRateCoding rate = message.BitRate;
                return own with
                {
                    Kind = CodingKind.BitRate,
                    BitsPerSecond = rate.AverageBitsPerSecond,
                    PeakBitsPerSecond = rate.PeakBitsPerSecond == 0 ? null : rate.PeakBitsPerSecond,
                };
            default:
                problems.Add("coding", "has no kind; allowed is one of uncompressed, raw, fixed_frame, bits_per_pixel, bit_rate, catalogue_name");
                return null;
        }
    }

    private static CodingDefinition Uncompressed(CodingDefinition own, UncompressedCoding coding, ItemProblems problems)
    {
        Sampling? sampling = coding.Sampling switch
        {
            SamplingMessage.Luma => Sampling.Luma400,
            SamplingMessage.Ycc420 => Sampling.Chroma420,
            SamplingMessage.Ycc411 => Sampling.Chroma411,
            SamplingMessage.Ycc422 => Sampling.Chroma422,
            SamplingMessage.Ycc444 or SamplingMessage.Rgb => Sampling.Full444,
            _ => null,
        };
        Packing? packing = coding.Packing switch
        {
            PackingMessage.Unspecified or PackingMessage.Tight => Packing.Tight,
            PackingMessage.Word16 => Packing.WholeBytes,
            PackingMessage.Word32 => Packing.ThreeIn32,
            PackingMessage.Row128 => Packing.Groups128,
            _ => null,
        };
        if (packing == Packing.WholeBytes && coding.BitDepth is < 9 or > 16)
        {
            problems.Add("coding.uncompressed.bit_depth", $"is {coding.BitDepth}; 16-bit words hold 9 to 16 bits");
        }

        return own with
        {
            Kind = CodingKind.Packed,
            Sampling = sampling,
            BitDepth = coding.BitDepth,
            Packing = packing,
            Alpha = coding.Alpha,
            HeaderBytes = coding.HeaderBytes,
            RowAlignmentBytes = coding.RowAlignmentBytes > 1 ? coding.RowAlignmentBytes : packing == Packing.Tight ? 0 : 1,
        };
    }

    private static Rational? Fraction(string field, RationalMessage? value, ItemProblems problems)
    {
        if (value is not null && value.Denominator < 1)
        {
            problems.Add(field + ".denominator", $"is {value.Denominator}; allowed is 1 or more");
            return null;
        }

        return value is null ? null : new Rational(value.Numerator, value.Denominator);
    }
}
