using System.Diagnostics.CodeAnalysis;
using PostPipeline.Quantities;

namespace PostPipeline.Footage.Codings;

/// <summary>The levels of one standard, lowest first, read from the table that goes with this library.</summary>
public sealed class LevelTable
{
    private static readonly Lazy<LevelTable> H264 = new(ReadH264);
    private static readonly Lazy<LevelTable> H265 = new(ReadH265);
    private static readonly Lazy<LevelTable> Jpeg2000 = new(ReadJpeg2000);

    private readonly Level[] levels;

    private LevelTable(Level[] levels, IReadOnlyList<string> profiles) => (this.levels, Profiles) = (levels, profiles);

    /// <summary>The names of the tables, for messages.</summary>
    public static string Names => "h264, h265, jpeg2000";

    /// <summary>The levels, lowest first.</summary>
    public IReadOnlyList<Level> Levels => levels;

    /// <summary>Profiles or tiers by which the bit rate differs.</summary>
    public IReadOnlyList<string> Profiles { get; }

    /// <summary>Finds a table.</summary>
    /// <param name="name">h264 (ITU-T H.264 table A-1), h265 (ITU-T H.265 tables A.8 and A.9) or jpeg2000 (ISO/IEC 15444-1 Amd 8).</param>
    /// <param name="table">The table, or null.</param>
    public static bool TryFind(string name, [NotNullWhen(true)] out LevelTable? table)
    {
        table = name switch
        {
            "h264" => H264.Value,
            "h265" => H265.Value,
            "jpeg2000" => Jpeg2000.Value,
            _ => null,
        };
        return table is not null;
    }

    /// <summary>A level by name, or null.</summary>
    /// <param name="name">As the standard writes it.</param>
    public Level? Find(string name) => Levels.FirstOrDefault(l => l.Name == name);

    /// <summary>The place of a profile in the table, or -1.</summary>
    /// <param name="name">A profile or tier.</param>
    internal int PlaceOf(string name) => Profiles.ToList().IndexOf(name);

    /// <summary>The lowest level that carries raster and rate.</summary>
    /// <param name="raster">The coded raster.</param>
    /// <param name="rate">Frames a second.</param>
    /// <exception cref="ArgumentOutOfRangeException">No level carries it.</exception>
    public Level Lowest(Raster raster, FrameRate rate) => Lowest(raster, rate, 0, null);

    /// <summary>The lowest level that carries raster, rate and a bit rate.</summary>
    /// <param name="raster">The coded raster.</param>
    /// <param name="rate">Frames a second.</param>
    /// <param name="bitsPerSecond">A bit rate that must be allowed; 0 for none.</param>
    /// <param name="place">The place of that bit rate's profile; null where no profile is asked for.</param>
    internal Level Lowest(Raster raster, FrameRate rate, long bitsPerSecond, int? place)
    {
        foreach (Level level in levels)
        {
            if ((place is not { } p || (level.BitsPerSecondAt(p) is > 0 and var most && most >= bitsPerSecond)) && level.Carries(raster, rate))
            {
                return level;
            }
        }

        throw new ArgumentOutOfRangeException(
            nameof(raster), raster, $"No level carries {raster} at {rate} frames a second{(bitsPerSecond > 0 ? $" and {bitsPerSecond} bit/s" : string.Empty)}; the highest carries {Levels[^1].LimitInWords}.");
    }

    private static LevelTable ReadH264()
    {
        // MaxBR is in units of 1000 bit/s × the profile's factor over 1000 (H.264 table A-2: 1, 1.25, 3, 4).
        string[] profiles = ["main", "high", "high-10", "high-4:2:2", "high-4:4:4"];
        long[] factors = [1000, 1250, 3000, 4000, 4000];
        List<Level> levels = [];
        foreach (string[] row in DataTable.Rows("h264_levels.csv"))
        {
            long bitRate = DataTable.Whole(row[3]);
            levels.Add(new(row[0], 4, 1, DataTable.Whole(row[2]), DataTable.Whole(row[1]), profiles, [.. factors.Select(f => f * bitRate)]));
        }

        return new([.. levels], profiles);
    }

    private static LevelTable ReadH265()
    {
        string[] tiers = ["main-tier", "high-tier"];
        List<Level> levels = [];
        foreach (string[] row in DataTable.Rows("h265_levels.csv"))
        {
            levels.Add(new(row[0], 0, 1, DataTable.Whole(row[1]), DataTable.Whole(row[2]), tiers, [DataTable.Whole(row[3]) * 1000, DataTable.Whole(row[4]) * 1000]));
        }

        return new([.. levels], tiers);
    }

    private static LevelTable ReadJpeg2000()
    {
        // Component sampling rate: three components of a 4:4:4 picture.
        List<Level> levels = [];
        foreach (string[] row in DataTable.Rows("jpeg2000_levels.csv"))
        {
            levels.Add(new(row[0], 0, 3, long.MaxValue / 8, DataTable.Whole(row[1]) * 1_000_000, [], []));
        }

        return new([.. levels], []);
    }
}
