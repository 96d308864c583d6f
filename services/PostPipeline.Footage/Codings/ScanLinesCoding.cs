using PostPipeline.Quantities;

namespace PostPipeline.Footage.Codings;

/// <summary>
/// OpenEXR scan-line files: channels of half (2 B) or float (4 B) values, for each block of lines 8 B in the line
/// table and 8 B before its data, and a header. Uncompressed files are exact; compressed blocks are never larger
/// than uncompressed ones, because a block that does not shrink is stored as it is.
/// </summary>
public sealed class ScanLinesCoding : Coding
{
    private readonly long bytesPerPixel;
    private readonly long header;
    private readonly int lines;
    private readonly Rational low;
    private readonly Rational? average;
    private readonly bool compressed;

    private ScanLinesCoding(CodingDefinition definition, long bytesPerPixel, long header, int lines, Rational low, Rational? average, bool compressed)
        : base(definition) =>
        (this.bytesPerPixel, this.header, this.lines, this.low, this.average, this.compressed) = (bytesPerPixel, header, lines, low, average, compressed);

    /// <inheritdoc/>
    public override string Formula => "W × H × bytes a pixel + ⌈H ÷ lines a block⌉ × 16 + header";

    /// <inheritdoc/>
    public override FrameBytes BytesPerFrame(Raster raster, FrameRate playRate)
    {
        long table = checked(((long)raster.Height + lines - 1) / lines * 16) + header;
        long picture = raster.Pixels * bytesPerPixel;
        if (!compressed)
        {
            return FrameBytes.Constant(picture + table);
        }

        long least = Math.Min(picture, Scaled.Down(raster.Pixels, low.Numerator, 8 * low.Denominator));
        long mean = average is { } bits ? Math.Clamp(Scaled.Up(raster.Pixels, bits.Numerator, 8 * bits.Denominator), least, picture) : picture;
        return FrameBytes.Range(least + table, mean + table, picture + table, SizeCertainty.Measured);
    }

    /// <inheritdoc/>
    public override IEnumerable<(string Symbol, string Value, string Unit)> Inputs(Raster raster, FrameRate playRate) =>
        [.. RasterInputs(raster), ("bytes a pixel", $"{bytesPerPixel}", "B"), ("lines a block", $"{lines}", string.Empty), ("header", $"{header}", "B")];

    internal static ScanLinesCoding? From(DefinitionCheck check)
    {
        CodingDefinition d = check.Definition;
        check.MayHaveBase();
        int half = check.Number("half_channels", d.HalfChannels, 0, 1024, 0);
        int full = check.Number("float_channels", d.FloatChannels, 0, 1024, 0);
        if (half + full == 0)
        {
            check.Add("half_channels", "half_channels and float_channels are both 0; a file has at least one channel");
        }

        long header = check.Number("header_bytes", d.HeaderBytes, 0, 1L << 30);
        int lines = check.Number("lines_per_block", d.LinesPerBlock, 1, 256, 1);
        Rational? low = check.Fraction("bits_per_pixel_low", d.BitsPerPixelLow, 0, 65_536);
        Rational? average = check.Fraction("bits_per_pixel", d.BitsPerPixel, 0, 65_536);
        if (low is null != average is null && average is not null)
        {
            check.Add("bits_per_pixel_low", "is missing; a compressed file has both a least and an average");
        }

        return check.Problems.Count > 0 ? null : new(d, (2L * half) + (4L * full), header, lines, low ?? Rational.Zero, average, low is not null);
    }
}
