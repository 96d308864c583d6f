using PostPipeline.Quantities;

namespace PostPipeline.Footage.Codings;

/// <summary>Uncompressed pictures: values in a packing, rows padded to a multiple, a header before each frame.</summary>
public sealed class PackedCoding : Coding
{
    private readonly Sampling sampling;
    private readonly int depth;
    private readonly bool alpha;
    private readonly Packing packing;
    private readonly int alignment;
    private readonly long header;

    private PackedCoding(CodingDefinition definition, Sampling sampling, int depth, Packing packing, int alignment, long header)
        : base(definition) =>
        (this.sampling, this.depth, alpha, this.packing, this.alignment, this.header) = (sampling, depth, definition.Alpha, packing, alignment, header);

    /// <inheritdoc/>
    public override string Formula => packing switch
    {
        Packing.Groups128 => "⌈W ÷ 48⌉ × 128 × H + header",
        Packing.ThreeIn32 => "⌈values in a row ÷ 3⌉ × 4 × H + header",
        _ => alignment == 0 ? "⌈values × bits ÷ 8⌉ + header" : "sum over planes of (bytes in a row, padded) × rows + header",
    };

    /// <inheritdoc/>
    public override FrameBytes BytesPerFrame(Raster raster, FrameRate playRate)
    {
        long picture = packing switch
        {
            Packing.Groups128 => Padded((raster.Width + 47L) / 48 * 128) * raster.Height,
            Packing.ThreeIn32 => Padded((SamplingPlanes.ValuesInRow(sampling, raster.Width, alpha) + 2) / 3 * 4) * raster.Height,
            _ => Rows(raster, packing == Packing.Tight ? depth : BitsOfWholeBytes(depth)),
        };
        return FrameBytes.Constant(picture + header);
    }

    /// <inheritdoc/>
    public override IEnumerable<(string Symbol, string Value, string Unit)> Inputs(Raster raster, FrameRate playRate) =>
    [
        .. RasterInputs(raster), ("sampling", Name(sampling) + (alpha ? " and alpha" : string.Empty), string.Empty), ("bits", $"{depth}", "bit"),
        ("packing", CodingText.Of(packing), string.Empty), ("row multiple", $"{alignment}", "B"), ("header", $"{header}", "B"),
    ];

    internal static PackedCoding? From(DefinitionCheck check)
    {
        CodingDefinition d = check.Definition;
        Sampling sampling = check.NeedSampling();
        int depth = check.NeedBitDepth();
        check.Read("packing");
        if (d.Packing is null || !Enum.IsDefined(d.Packing.Value))
        {
            check.Add("packing", "is missing or not known; allowed are tight, whole-bytes, three-in-32, groups-128");
            return null;
        }

        Packing packing = d.Packing.Value;
        int alignment = check.Number("row_alignment_bytes", d.RowAlignmentBytes, 0, 4096, 1);
        long header = check.Number("header_bytes", d.HeaderBytes, 0, 1L << 30, 0);
        if (packing is Packing.ThreeIn32 or Packing.Groups128 && depth != 10)
        {
            check.Add("bit_depth", $"is {depth}; the packing {CodingText.Of(packing)} holds 10-bit values only");
        }

        if (packing == Packing.Groups128 && (sampling != Sampling.Chroma422 || d.Alpha))
        {
            check.Add("sampling", "must be 4:2:2 without alpha in groups of 48 pixels");
        }

        if (packing == Packing.ThreeIn32 && sampling == Sampling.Chroma420)
        {
            check.Add("sampling", "is 4:2:0, which has no rows with all values; allowed in 32-bit words are the others");
        }

        if (alignment == 0 && packing != Packing.Tight)
        {
            check.Add("row_alignment_bytes", "is 0; only the packing tight runs on across rows");
        }

        return check.Problems.Count > 0 ? null : new(d, sampling, depth, packing, alignment, header);
    }

    private static int BitsOfWholeBytes(int depth) => depth <= 8 ? 8 : depth <= 16 ? 16 : 32;

    private long Rows(Raster raster, int bits)
    {
        // Nothing to pad: whole bytes a value, no row multiple.
        if (alignment <= 1 && bits % 8 == 0)
        {
            return SamplingPlanes.Values(sampling, raster, alpha) * (bits / 8);
        }

        if (alignment == 0)
        {
            return Scaled.Up(SamplingPlanes.Values(sampling, raster, alpha), bits, 8);
        }

        // Values of one row lie side by side where every row has all of them; 4:2:0 lies in planes.
        if (sampling != Sampling.Chroma420)
        {
            return Padded(Scaled.Up(SamplingPlanes.ValuesInRow(sampling, raster.Width, alpha), bits, 8)) * raster.Height;
        }

        long full = Padded(Scaled.Up(raster.Width, bits, 8)) * raster.Height;
        long quarter = Padded(Scaled.Up(SamplingPlanes.Halves(raster.Width), bits, 8)) * SamplingPlanes.Halves(raster.Height);
        return (full * (alpha ? 2 : 1)) + (2 * quarter);
    }

    private long Padded(long rowBytes) => alignment <= 1 ? rowBytes : (rowBytes + alignment - 1) / alignment * alignment;
}
