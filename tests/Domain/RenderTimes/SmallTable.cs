using System.Globalization;
using PostPipeline.Quantities.Randomness;
using PostPipeline.RenderTimes;

namespace PostPipeline.Domain.Tests.RenderTimes;

/// <summary>Small tables made here: seconds per frame of a megapixel and a coding, times what a project shares, times noise.</summary>
internal static class SmallTable
{
    /// <summary>Makes a table.</summary>
    /// <param name="projects">Projects, named from <paramref name="first"/> on.</param>
    /// <param name="first">Number of the first project.</param>
    /// <param name="shared">Log deviation between projects.</param>
    /// <param name="noise">Log deviation between rows.</param>
    /// <param name="seed">Seed.</param>
    /// <param name="slower">A factor on all times of coding "master", which an old build did not have.</param>
    /// <param name="withCoding">Whether the coding is a feature.</param>
    public static BenchmarkTable Of(int projects, int first = 0, double shared = 0.1, double noise = 0.03, long seed = 1, double slower = 1, bool withCoding = true)
    {
        string[] categories = withCoding ? ["coding"] : [];
        BenchmarkTableBuilder builder = new(
            new(["project", "coding", "megapixels", "seconds"], "seconds", string.Empty, "project", [.. categories], ["megapixels"]), invented: false);
        for (int p = first; p < first + projects; p++)
        {
            RandomStream random = new(seed, RandomPurpose.General, p);
            double project = Math.Exp(shared * random.NextNormal());
            foreach (double size in new[] { 2.0, 4, 8, 12 })
            {
                foreach ((string coding, double cost) in new[] { ("proxy", 0.01), ("master", 0.05 * slower) })
                {
                    double seconds = cost * size * project * Math.Exp(noise * random.NextNormal());
                    Add(builder, [$"project {p}", coding, size.ToString(CultureInfo.InvariantCulture), seconds.ToString("R", CultureInfo.InvariantCulture)]);
                }
            }
        }

        return builder.Build();
    }

    private static void Add(BenchmarkTableBuilder builder, string[] cells)
    {
        if (!builder.Add(cells))
        {
            throw new InvalidDataException(builder.Violations[0].ToString());
        }
    }
}
