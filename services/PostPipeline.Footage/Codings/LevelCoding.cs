using PostPipeline.Quantities;

namespace PostPipeline.Footage.Codings;

/// <summary>
/// ITU-T H.264 or H.265 inside the limits of a level: the level that is named, or the lowest that carries raster
/// and rate. The level's bit rate is the most; a stated bit rate below it is the average.
/// </summary>
public sealed class LevelCoding : Coding
{
    private readonly LevelTable table;
    private readonly string profile;
    private readonly int place;
    private readonly Level? named;
    private readonly long? average;

    private LevelCoding(CodingDefinition definition, LevelTable table, string profile, Level? named, long? average)
        : base(definition) => (this.table, this.profile, place, this.named, this.average) = (table, profile, table.PlaceOf(profile), named, average);

    /// <inheritdoc/>
    public override string Formula => "⌊bit rate of the level ÷ (8 × frames a second)⌋";

    /// <inheritdoc/>
    public override FrameBytes BytesPerFrame(Raster raster, FrameRate playRate)
    {
        Level level = LevelFor(raster, playRate);
        long most = Bytes(level.BitsPerSecondAt(place), playRate);
        if (average is null)
        {
            return FrameBytes.Range(0, most, most, SizeCertainty.Limit);
        }

        return average <= level.BitsPerSecondAt(place)
            ? FrameBytes.Range(0, Bytes(average.Value, playRate), most, SizeCertainty.Stated)
            : throw new ArgumentOutOfRangeException(
                nameof(playRate), playRate, $"The bit rate of {Id} is {average} bit/s; level {level.Name} allows {level.BitsPerSecondAt(place)} bit/s in profile {profile}.");
    }

    /// <summary>The level used.</summary>
    /// <param name="raster">The coded raster.</param>
    /// <param name="rate">Frames a second.</param>
    /// <exception cref="ArgumentOutOfRangeException">No level carries it, or the named level does not.</exception>
    public Level LevelFor(Raster raster, FrameRate rate)
    {
        // With a stated bit rate, the lowest level is the one that carries that too.
        if (named is null)
        {
            return table.Lowest(raster, rate, average ?? 0, place);
        }

        return named.Carries(raster, rate)
            ? named
            : throw new ArgumentOutOfRangeException(nameof(raster), raster, $"Level {named.Name} does not carry {raster} at {rate} frames a second; allowed is {named.LimitInWords}.");
    }

    /// <inheritdoc/>
    public override IEnumerable<(string Symbol, string Value, string Unit)> Inputs(Raster raster, FrameRate playRate)
    {
        Level level = LevelFor(raster, playRate);
        return
        [
            .. RasterInputs(raster), ("frames a second", $"{playRate}", "1/s"), ("level", level.Name, string.Empty),
            ("bit rate of the level", $"{level.BitsPerSecondAt(place)}", $"bit/s in profile {profile}"),
        ];
    }

    internal static LevelCoding? From(DefinitionCheck check)
    {
        CodingDefinition d = check.Definition;
        check.MayHaveBase();
        check.Read("level_table");
        check.Read("profile");
        check.Read("level");
        check.Read("bits_per_second");
        if (d.LevelTable is null || !LevelTable.TryFind(d.LevelTable, out LevelTable? table))
        {
            check.Add("level_table", $"is '{d.LevelTable}'; allowed are {LevelTable.Names}");
            return null;
        }

        if (d.Profile is null || !table.Profiles.Contains(d.Profile))
        {
            check.Add("profile", $"is '{d.Profile}'; allowed are {string.Join(", ", table.Profiles)}");
        }

        if (d.Level is not null && table.Find(d.Level) is null)
        {
            check.Add("level", $"is '{d.Level}'; allowed are {string.Join(", ", table.Levels.Select(l => l.Name))}");
        }

        long? average = d.BitsPerSecond is null ? null : check.Number("bits_per_second", d.BitsPerSecond, 1, 1L << 50);
        return check.Problems.Count > 0 ? null : new(d, table, d.Profile!, d.Level is null ? null : table.Find(d.Level), average);
    }

    private static long Bytes(long bitsPerSecond, FrameRate rate) =>
        Scaled.Down(bitsPerSecond, rate.Denominator, checked(8 * rate.Numerator));
}
