using PostPipeline.Quantities;

namespace PostPipeline.Footage.Codings;

/// <summary>
/// One value for each photosite, at any depth, with a compression ratio against depth × photosites or with
/// bits a photosite. A ratio means nothing without that base, so bits a photosite are what is kept.
/// </summary>
public sealed class PhotositeCoding : Coding
{
    private readonly Rational bits;
    private readonly Rational peakBits;
    private readonly long header;

    private PhotositeCoding(CodingDefinition definition, Rational bits, Rational peakBits, long header)
        : base(definition) => (this.bits, this.peakBits, this.header) = (bits, peakBits, header);

    /// <summary>Bits a photosite as stored, after compression and padding.</summary>
    public Rational BitsPerPhotosite => bits;

    /// <inheritdoc/>
    public override string Formula => Definition.CompressionRatio is null
        ? "⌈W × H × bits a photosite ÷ 8⌉ + header"
        : "⌈W × H × bits ÷ (8 × ratio)⌉ + header";

    /// <inheritdoc/>
    public override FrameBytes BytesPerFrame(Raster raster, FrameRate playRate)
    {
        long average = checked(Bytes(raster, bits) + header);
        bool exact = Definition.CompressionRatio is null && Definition.BitsPerPixel is null;
        return peakBits == bits
            ? FrameBytes.Constant(average, exact ? SizeCertainty.Exact : SizeCertainty.Stated)
            : FrameBytes.Range(average, average, checked(Bytes(raster, peakBits) + header), SizeCertainty.Stated);
    }

    /// <inheritdoc/>
    public override IEnumerable<(string Symbol, string Value, string Unit)> Inputs(Raster raster, FrameRate playRate) =>
    [
        .. RasterInputs(raster), ("bits", $"{Definition.BitDepth}", "bit"), ("ratio", $"{Definition.CompressionRatio ?? (Rational)Definition.BitDepth!.Value / bits}", $"to 1 against {BaseInWords}"),
        ("bits a photosite", $"{bits}", "bit"), ("header", $"{header}", "B"),
    ];

    internal static PhotositeCoding? From(DefinitionCheck check)
    {
        CodingDefinition d = check.Definition;
        check.MayHaveBase();
        int depth = check.NeedBitDepth();
        if (d.Sampling is not (null or Sampling.Photosites))
        {
            check.Add("sampling", "must be photosites, or left out");
        }

        if (d.Alpha)
        {
            check.Add("alpha", "means nothing for photosites");
        }

        int stored = check.Number("stored_bits", d.StoredBits, depth, 32, depth);
        Rational? ratio = check.Fraction("compression_ratio", d.CompressionRatio, 1, 1000);
        Rational? perPixel = check.Fraction("bits_per_pixel", d.BitsPerPixel, new(1, 1000), 64);
        Rational? peak = check.Fraction("bits_per_pixel_peak", d.BitsPerPixelPeak, new(1, 1000), 64);
        if ((ratio is null ? 0 : 1) + (perPixel is null ? 0 : 1) + (d.StoredBits is null ? 0 : 1) > 1)
        {
            check.Add("compression_ratio", "only one of compression_ratio, bits_per_pixel and stored_bits may be given");
        }

        long header = check.Number("header_bytes", d.HeaderBytes, 0, 1L << 30, 0);
        if (check.Problems.Count > 0)
        {
            return null;
        }

        Rational bits = perPixel ?? (ratio is { } c ? depth / c : stored);
        if (peak < bits)
        {
            check.Add("bits_per_pixel_peak", $"is {peak}; allowed is {bits} (the average) or more");
            return null;
        }

        return new(d with { Sampling = Sampling.Photosites }, bits, peak ?? bits, header);
    }

    private static long Bytes(Raster raster, Rational bits) => Scaled.Up(raster.Pixels, bits.Numerator, checked(8 * bits.Denominator));
}
