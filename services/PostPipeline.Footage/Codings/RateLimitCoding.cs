using PostPipeline.Quantities;

namespace PostPipeline.Footage.Codings;

/// <summary>
/// A bit rate that must not be passed, as for JPEG 2000 in digital cinema: at 250 Mbit/s a frame has at most
/// ⌊250·10⁶ ÷ 8 ÷ 24⌋ = 1,302,083 B. What is written may be smaller, so the limit is also the planning average.
/// </summary>
public sealed class RateLimitCoding : Coding
{
    private readonly long limit;
    private readonly LevelTable? levels;

    private RateLimitCoding(CodingDefinition definition, long limit, LevelTable? levels)
        : base(definition) => (this.limit, this.levels) = (limit, levels);

    /// <inheritdoc/>
    public override string Formula => "⌊bit rate limit ÷ (8 × frames a second)⌋";

    /// <inheritdoc/>
    public override FrameBytes BytesPerFrame(Raster raster, FrameRate playRate)
    {
        levels?.Lowest(raster, playRate);
        long most = Scaled.Down(limit, playRate.Denominator, checked(8 * playRate.Numerator));
        return FrameBytes.Range(0, most, most, SizeCertainty.Limit);
    }

    /// <inheritdoc/>
    public override IEnumerable<(string Symbol, string Value, string Unit)> Inputs(Raster raster, FrameRate playRate)
    {
        (string, string, string)[] inputs = [("bit rate limit", $"{limit}", "bit/s"), ("frames a second", $"{playRate}", "1/s")];
        return levels is null ? inputs : [.. inputs, ("level by samples a second", levels.Lowest(raster, playRate).Name, string.Empty)];
    }

    internal static RateLimitCoding? From(DefinitionCheck check)
    {
        CodingDefinition d = check.Definition;
        check.MayHaveBase();
        long limit = check.Number("bits_per_second", d.BitsPerSecond, 1, 1L << 50);
        check.Read("level_table");
        LevelTable? levels = null;
        if (d.LevelTable is not null && !LevelTable.TryFind(d.LevelTable, out levels))
        {
            check.Add("level_table", $"is '{d.LevelTable}'; allowed are {LevelTable.Names}");
        }

        return check.Problems.Count > 0 ? null : new(d, limit, levels);
    }
}
