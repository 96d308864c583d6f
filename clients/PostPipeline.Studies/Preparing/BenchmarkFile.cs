using PostPipeline.Studies.Benchmarks;
using PostPipeline.Studies.Briefs;

namespace PostPipeline.Studies.Preparing;

/// <summary>Benchmark rows read from a CSV file, to be imported.</summary>
/// <param name="Name">What to call the set.</param>
/// <param name="Columns">Column names.</param>
/// <param name="Rows">Cells by row, as many as there are columns.</param>
/// <param name="Invented">Whether the rows are invented.</param>
public sealed record BenchmarkFile(string Name, IReadOnlyList<string> Columns, IReadOnlyList<IReadOnlyList<string>> Rows, bool Invented)
{
    /// <summary>The most rows read.</summary>
    public const int MostRows = 1_000_000;

    private static readonly string[] Needed = ["project", "seconds_per_frame"];

    /// <summary>Reads a file: a header row, then measured rows in the columns of the demonstration's file, as many of them as there are.</summary>
    /// <param name="path">The file.</param>
    /// <exception cref="BriefException">The file cannot be used.</exception>
    public static BenchmarkFile Read(string path)
    {
        List<BriefProblem> problems = [];
        List<IReadOnlyList<string>> rows = [];
        string[]? columns = null;
        void Wrong(long line, string key, string message) => problems.Add(new(path, line, line > 0 ? 1 : 0, key, string.Empty, message));
        try
        {
            using StreamReader reader = new(path);
            foreach ((long line, string[] cells) in CsvRows.Read(reader))
            {
                if (columns is null)
                {
                    columns = [.. cells.Select(c => c.Trim())];
                    foreach (string missing in Needed.Except(columns))
                    {
                        Wrong(line, missing, $"the column is not there; the file has {string.Join(", ", columns.Take(40))}");
                    }

                    if (!Features().Intersect(columns).Any())
                    {
                        Wrong(line, "columns", $"none of the features is there: {string.Join(", ", Features())}");
                    }
                }
                else if (cells.Length != columns.Length)
                {
                    Wrong(line, string.Empty, $"the row has {cells.Length} cells; the header has {columns.Length} columns");
                }
                else
                {
                    rows.Add(cells);
                }

                if (problems.Count >= 20 || rows.Count > MostRows)
                {
                    break;
                }
            }
        }
        catch (CsvFormatException wrong)
        {
            Wrong(wrong.Line, string.Empty, wrong.Problem);
        }
        catch (Exception unreadable) when (unreadable is IOException or UnauthorizedAccessException)
        {
            Wrong(0, string.Empty, unreadable.Message);
        }

        if (problems.Count == 0 && rows.Count is 0 or > MostRows)
        {
            Wrong(0, string.Empty, $"allowed is 1 to {MostRows} rows below a header row");
        }

        return problems.Count == 0 ? new(Path.GetFileName(path), columns!, rows, Invented: false) : throw new BriefException(problems);
    }

    private static IEnumerable<string> Features() => InventedBenchmarks.Header().CategoryColumns.Concat(InventedBenchmarks.Header().NumberColumns);
}
