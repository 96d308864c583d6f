using PostPipeline.Quantities;

namespace PostPipeline.Footage.Codings;

/// <summary>A coding that holds a bit rate whatever the raster: most proxies and long groups of pictures.</summary>
public sealed class BitRateCoding : Coding
{
    private readonly long average;
    private readonly long peak;

    private BitRateCoding(CodingDefinition definition, long average, long peak)
        : base(definition) => (this.average, this.peak) = (average, peak);

    /// <inheritdoc/>
    public override string Formula => "⌈bit rate ÷ (8 × frames a second)⌉";

    /// <inheritdoc/>
    public override FrameBytes BytesPerFrame(Raster raster, FrameRate playRate)
    {
        long mean = Bytes(average, playRate);
        return peak == average
            ? FrameBytes.Constant(mean, SizeCertainty.Stated)
            : FrameBytes.Range(0, mean, Bytes(peak, playRate), SizeCertainty.Stated);
    }

    /// <inheritdoc/>
    public override IEnumerable<(string Symbol, string Value, string Unit)> Inputs(Raster raster, FrameRate playRate) =>
        [("bit rate", $"{average}", "bit/s"), ("most", $"{peak}", "bit/s"), ("frames a second", $"{playRate}", "1/s")];

    internal static BitRateCoding? From(DefinitionCheck check)
    {
        CodingDefinition d = check.Definition;
        check.MayHaveBase();
        long average = check.Number("bits_per_second", d.BitsPerSecond, 1, 1L << 50);
        long peak = check.Number("peak_bits_per_second", d.PeakBitsPerSecond, average, 1L << 50, average);
        return check.Problems.Count > 0 ? null : new(d, average, peak);
    }

    private static long Bytes(long bitsPerSecond, FrameRate rate) => Scaled.Up(bitsPerSecond, rate.Denominator, checked(8 * rate.Numerator));
}
