using System.Globalization;
using PostPipeline.Client;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Studies.Benchmarks;

namespace PostPipeline.Services.Tests.Rendering;

/// <summary>Twelve projects of eight rows: a hundredth of a second a megapixel, five times that for masters.</summary>
internal static class SmallSet
{
    /// <summary>Imports the rows.</summary>
    /// <param name="clients">The services.</param>
    /// <param name="seconds">A factor on all times.</param>
    public static Task<ImportBenchmarksResponse> Import(SuiteClients clients, double seconds)
    {
        BenchmarkHeader header = new() { Name = "small", TargetColumn = "seconds", FamilyColumn = "project" };
        header.Columns.AddRange(["project", "coding", "megapixels", "seconds"]);
        header.CategoryColumns.Add("coding");
        header.NumberColumns.Add("megapixels");
        return BenchmarkUpload.ImportAsync(clients.Benchmarks, header, Rows(seconds), CancellationToken.None);
    }

    private static IEnumerable<IReadOnlyList<string>> Rows(double factor)
    {
        for (int project = 0; project < 12; project++)
        {
            for (int size = 4; size <= 16; size += 4)
            {
                foreach ((string coding, double cost) in new[] { ("proxy", 0.01), ("master", 0.05) })
                {
                    double seconds = factor * size * cost * (1 + (0.1 * Math.Sin(project * 2.4))) * (1 + (0.02 * Math.Cos((project * 5) + size)));
                    yield return [$"project {project}", coding, size.ToString(CultureInfo.InvariantCulture), seconds.ToString("F5", CultureInfo.InvariantCulture)];
                }
            }
        }
    }
}
