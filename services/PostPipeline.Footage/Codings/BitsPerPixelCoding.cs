using PostPipeline.Quantities;

namespace PostPipeline.Footage.Codings;

/// <summary>A coding whose frames vary, known by a range of bits a pixel: least, average, most.</summary>
public sealed class BitsPerPixelCoding : Coding
{
    private readonly Rational low;
    private readonly Rational average;
    private readonly Rational peak;
    private readonly SizeCertainty certainty;

    private BitsPerPixelCoding(CodingDefinition definition, Rational low, Rational average, Rational peak)
        : base(definition)
    {
        (this.low, this.average, this.peak) = (low, average, peak);
        certainty = low == peak ? SizeCertainty.Stated : SizeCertainty.Measured;
    }

    /// <inheritdoc/>
    public override string Formula => "W × H × bits a pixel ÷ 8, the least down, the others up";

    /// <inheritdoc/>
    public override FrameBytes BytesPerFrame(Raster raster, FrameRate playRate)
    {
        long pixels = raster.Pixels;
        long top = Bytes(pixels, peak, up: true);
        return low == peak
            ? FrameBytes.Constant(top, certainty)
            : FrameBytes.Range(Bytes(pixels, low, up: false), Bytes(pixels, average, up: true), top, certainty);
    }

    /// <inheritdoc/>
    public override IEnumerable<(string Symbol, string Value, string Unit)> Inputs(Raster raster, FrameRate playRate) =>
    [
        .. RasterInputs(raster), ("least", $"{low.ToDouble():0.####}", "bit/px"), ("average", $"{average.ToDouble():0.####}", "bit/px"), ("most", $"{peak.ToDouble():0.####}", "bit/px"),
    ];

    internal static BitsPerPixelCoding? From(DefinitionCheck check)
    {
        CodingDefinition d = check.Definition;
        check.MayHaveBase();
        Rational? average = check.Fraction("bits_per_pixel", d.BitsPerPixel, new(1, 10_000), 256);
        Rational? low = check.Fraction("bits_per_pixel_low", d.BitsPerPixelLow, 0, 256) ?? average;
        Rational? peak = check.Fraction("bits_per_pixel_peak", d.BitsPerPixelPeak, new(1, 10_000), 256) ?? average;
        if (average is null && check.Problems.Count == 0)
        {
            check.Add("bits_per_pixel", "is missing");
        }
        else if (low > average || peak < average)
        {
            check.Add("bits_per_pixel", $"is {average}; allowed is between the least ({low}) and the most ({peak})");
        }

        return check.Problems.Count > 0 ? null : new(d, low!.Value, average!.Value, peak!.Value);
    }

    private static long Bytes(long pixels, Rational bits, bool up) =>
        up ? Scaled.Up(pixels, bits.Numerator, checked(8 * bits.Denominator)) : Scaled.Down(pixels, bits.Numerator, checked(8 * bits.Denominator));
}
