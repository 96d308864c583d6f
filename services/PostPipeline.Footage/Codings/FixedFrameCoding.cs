using PostPipeline.Quantities;

namespace PostPipeline.Footage.Codings;

/// <summary>
/// One size for one raster, from a table: the compression IDs of SMPTE ST 2019-1 with fixed rasters. Without a raster,
/// one size whatever the raster.
/// </summary>
public sealed class FixedFrameCoding : Coding
{
    private readonly Raster? only;
    private readonly FrameBytes bytes;

    private FixedFrameCoding(CodingDefinition definition, Raster? only, long bytes)
        : base(definition) => (this.only, this.bytes) = (only, FrameBytes.Constant(bytes));

    /// <inheritdoc/>
    public override Raster? OnlyRaster => only;

    /// <inheritdoc/>
    public override string Formula => "bytes a frame from the table";

    /// <inheritdoc/>
    public override FrameBytes BytesPerFrame(Raster raster, FrameRate playRate) =>
        only is null || raster == only
            ? bytes
            : throw new ArgumentOutOfRangeException(nameof(raster), raster, $"The coding {Id} does not carry {raster}; allowed is {only}.");

    /// <inheritdoc/>
    public override IEnumerable<(string Symbol, string Value, string Unit)> Inputs(Raster raster, FrameRate playRate) =>
        [.. RasterInputs(raster), ("bytes a frame", $"{bytes.Average}", "B")];

    internal static FixedFrameCoding? From(DefinitionCheck check)
    {
        CodingDefinition d = check.Definition;
        check.MayHaveBase();
        bool any = d.Width is null && d.Height is null;
        int width = check.Number("width", d.Width, 1, Raster.MaximumSide, any ? 1 : null);
        int height = check.Number("height", d.Height, 1, Raster.MaximumSide, any ? 1 : null);
        long bytes = check.Number("frame_bytes", d.FrameBytes, 1, 1L << 40);
        return check.Problems.Count > 0 ? null : new(d, any ? null : Raster.From(width, height), bytes);
    }
}
