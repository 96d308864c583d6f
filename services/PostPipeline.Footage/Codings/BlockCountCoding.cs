using PostPipeline.Quantities;

namespace PostPipeline.Footage.Codings;

/// <summary>
/// SMPTE ST 2019-1 by class, for any raster: blocks of 16×16 pixels times the bytes that the class gives to 255
/// of them, rounded half up to 4,096 B, at least 8,192 B.
/// </summary>
public sealed class BlockCountCoding : Coding
{
    private const long Multiple = 4096;
    private const long Least = 8192;
    private readonly long bytesPer255;

    private BlockCountCoding(CodingDefinition definition, long bytesPer255)
        : base(definition) => this.bytesPer255 = bytesPer255;

    /// <inheritdoc/>
    public override string Formula => "max(8192, ⌈W ÷ 16⌉ × ⌈H ÷ 16⌉ × class bytes ÷ 255 rounded half up to 4096)";

    /// <inheritdoc/>
    public override FrameBytes BytesPerFrame(Raster raster, FrameRate playRate)
    {
        long blocks = (raster.Width + 15L) / 16 * ((raster.Height + 15L) / 16);
        long bytes = checked(blocks * bytesPer255) / 255;
        return FrameBytes.Constant(Math.Max(Least, (bytes + (Multiple / 2)) / Multiple * Multiple));
    }

    /// <inheritdoc/>
    public override IEnumerable<(string Symbol, string Value, string Unit)> Inputs(Raster raster, FrameRate playRate) =>
        [.. RasterInputs(raster), ("class bytes", $"{bytesPer255}", "B for 255 blocks")];

    internal static BlockCountCoding? From(DefinitionCheck check)
    {
        check.MayHaveBase();
        long bytes = check.Number("bytes_per_255_blocks", check.Definition.BytesPer255Blocks, 1, 1L << 24);
        return check.Problems.Count > 0 ? null : new(check.Definition, bytes);
    }
}
