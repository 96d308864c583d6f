using System.Collections.Immutable;
using System.Globalization;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Quantities.Randomness;

namespace PostPipeline.Studies.Benchmarks;

/// <summary>
/// Invented rows such as one may bring of one's own: twelve projects on one kind of node, two kinds of work, two repeats.
/// Seconds a frame = 4 ms or 30 ms a megapixel, times a factor for the project (log sd 0.12) and one for the repeat (0.03);
/// wall seconds = frames × that. They serve the calibration notebook only and say that they are invented.
/// </summary>
public static class InventedOwnRows
{
    /// <summary>The seed of the rows in the repository.</summary>
    public const long DefaultSeed = 20_260_102;

    private const int Repeats = 2;

    private static readonly ImmutableArray<string> Columns = ["project", "input_width", "input_height", "output_coding", "frames", "wall_seconds"];

    private static readonly (string Name, int Width, int Height)[] Projects =
    [
        ("Gravel Road", 4096, 2160), ("Small Hours", 3840, 2160), ("The Weir", 2048, 1152), ("Amber Field", 6144, 3240), ("Lock Keeper", 4096, 2304), ("Thin Ice", 3072, 1728),
        ("Night Ferry", 3840, 2160), ("Blue Slate", 5120, 2700), ("Old Harbour", 4096, 2160), ("Salt Line", 2048, 1080), ("Paper Moon Bay", 3840, 2160), ("North Gate", 6144, 3240),
    ];

    private static readonly (string Coding, double SecondsPerMegapixel)[] Work = [("proxy", 0.004), ("mezzanine", 0.03)];

    /// <summary>The header for an import of these rows: wall seconds are divided by frames.</summary>
    public static BenchmarkHeader Header()
    {
        BenchmarkHeader header = new() { Name = "own rows (invented)", Invented = true, TargetColumn = "wall_seconds", FramesColumn = "frames", FamilyColumn = "project" };
        header.Columns.AddRange(Columns);
        header.CategoryColumns.Add("output_coding");
        header.NumberColumns.AddRange(["input_width", "input_height"]);
        return header;
    }

    /// <summary>The rows, in the header's columns.</summary>
    /// <param name="seed">Any seed; the repository's file holds <see cref="DefaultSeed"/>.</param>
    public static ImmutableArray<ImmutableArray<string>> Rows(long seed = DefaultSeed)
    {
        ImmutableArray<ImmutableArray<string>>.Builder rows = ImmutableArray.CreateBuilder<ImmutableArray<string>>();
        for (int p = 0; p < Projects.Length; p++)
        {
            RandomStream random = new(seed, RandomPurpose.InventedData, p);
            double project = Math.Exp(0.12 * random.NextNormal());
            foreach ((string coding, double perMegapixel) in Work)
            {
                for (int repeat = 0; repeat < Repeats; repeat++)
                {
                    int frames = 480 + (240 * ((p + repeat) % 3));
                    double seconds = frames * perMegapixel * (Projects[p].Width * (double)Projects[p].Height / 1e6) * project * Math.Exp(0.03 * random.NextNormal());
                    rows.Add(
                    [
                        Projects[p].Name, Projects[p].Width.ToString(CultureInfo.InvariantCulture), Projects[p].Height.ToString(CultureInfo.InvariantCulture), coding,
                        frames.ToString(CultureInfo.InvariantCulture), seconds.ToString("F2", CultureInfo.InvariantCulture),
                    ]);
                }
            }
        }

        return rows.ToImmutable();
    }

    /// <summary>The rows as comma-separated text with a header line.</summary>
    /// <param name="seed">Any seed.</param>
    public static string ToCsv(long seed = DefaultSeed) => CsvRows.Plain(Columns, Rows(seed));
}
