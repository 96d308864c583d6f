using System.Diagnostics.CodeAnalysis;
using PostPipeline.Quantities;

namespace PostPipeline.Footage.Codings;

/// <summary>The levels of one standard, lowest first, read from the table that goes with this library.</summary>
public sealed class LevelTable
{
    private static readonly Lazy<LevelTable> H264 = new(ReadH264);
    private static readonly Lazy<LevelTable> H265 = new(ReadH265);
    private static readonly Lazy<LevelTable> Jpeg2000 = new(ReadJpeg2000);

    private LevelTable(IReadOnlyList<Level> levels, IReadOnlyList<string> profiles) => (Levels, Profiles) = (levels, profiles);

    /// <summary>The names of the tables, for messages.</summary>
    public static string Names => "h264, h265, jpeg2000";

    /// <summary>The levels, lowest first.</summary>
    public IReadOnlyList<Level> Levels { get; }

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

    /// <summary>The lowest level that carries raster, rate and, where given, a bit rate.</summary>
    /// <param name="raster">The coded raster.</param>
    /// <param name="rate">Frames a second.</param>
    /// <param name="bitsPerSecond">A bit rate that must be allowed; 0 for none.</param>
    /// <param name="profile">The profile of that bit rate.</param>
    /// <exception cref="ArgumentOutOfRangeException">No level carries it.</exception>
    public Level Lowest(Raster raster, FrameRate rate, long bitsPerSecond = 0, string? profile = null)
    {
        for (int i = 0; i < Levels.Count; i++)
        {
            Level level = Levels[i];
            if (level.Carries(raster, rate) && (profile is null || (level.BitsPerSecond(profile) > 0 && level.BitsPerSecond(profile) >= bitsPerSecond)))
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
        (string Profile, long Factor)[] factors = [("main", 1000), ("high", 1250), ("high-10", 3000), ("high-4:2:2", 4000), ("high-4:4:4", 4000)];
        List<Level> levels = [];
        foreach (string[] row in DataTable.Rows("h264_levels.csv"))
        {
            long bitRate = DataTable.Whole(row[3]);
            levels.Add(new(row[0], 16, 1, DataTable.Whole(row[2]), DataTable.Whole(row[1]), factors.ToDictionary(f => f.Profile, f => f.Factor * bitRate)));
        }

        return new(levels, [.. factors.Select(f => f.Profile)]);
    }

    private static LevelTable ReadH265()
    {
        List<Level> levels = [];
        foreach (string[] row in DataTable.Rows("h265_levels.csv"))
        {
            Dictionary<string, long> rates = new() { ["main-tier"] = DataTable.Whole(row[3]) * 1000, ["high-tier"] = DataTable.Whole(row[4]) * 1000 };
            levels.Add(new(row[0], 1, 1, DataTable.Whole(row[1]), DataTable.Whole(row[2]), rates));
        }

        return new(levels, ["main-tier", "high-tier"]);
    }

    private static LevelTable ReadJpeg2000()
    {
        // Component sampling rate: three components of a 4:4:4 picture.
        List<Level> levels = [];
        foreach (string[] row in DataTable.Rows("jpeg2000_levels.csv"))
        {
            levels.Add(new(row[0], 1, 3, long.MaxValue / 8, DataTable.Whole(row[1]) * 1_000_000, new Dictionary<string, long>()));
        }

        return new(levels, []);
    }
}
