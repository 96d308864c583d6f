using System.Globalization;
using PostPipeline.Cli.Commands.RenderTimes;
using PostPipeline.Cli.Frame;

namespace PostPipeline.Cli.Commands.Farms;

/// <summary>Reads a farm's own log: CSV (RFC 4180) with the columns job, node, start, end, frames, state, by these names or by others that the user maps.</summary>
internal static class FarmLog
{
    private const int MostRows = 1_000_000;
    private const int MostProblems = 100;
    private static readonly string[] Needed = ["job", "node", "start", "end", "frames"];

    /// <summary>Reads a log.</summary>
    /// <param name="path">The file.</param>
    /// <param name="columns">Pairs such as job=Job name, for columns that have other names.</param>
    /// <param name="cancellation">Ends the reading.</param>
    /// <exception cref="InputException">Bad rows by their lines, the first hundred problems at most.</exception>
    public static IReadOnlyList<FarmLogRow> Read(string path, IReadOnlyList<string> columns, CancellationToken cancellation = default)
    {
        Dictionary<string, string> names = Needed.Append("state").ToDictionary(n => n, n => n, StringComparer.Ordinal);
        foreach (string pair in columns)
        {
            int equals = pair.IndexOf('=', StringComparison.Ordinal);
            if (equals < 1 || !names.ContainsKey(pair[..equals]))
            {
                throw new InputException(InputProblem.Of("--columns", pair, $"allowed is NAME=COLUMN with NAME one of {string.Join(", ", names.Keys)}"));
            }

            names[pair[..equals]] = pair[(equals + 1)..];
        }

        RowFile file = RowFile.Open(path);
        List<InputProblem> problems = [.. Needed.Where(n => file.Position(names[n]) < 0)
            .Select(n => new InputProblem(path, 1, 0, n, names[n], $"there is no such column; name it with --columns {n}=COLUMN"))];
        if (problems.Count > 0)
        {
            throw new InputException(problems);
        }

        Dictionary<string, int> places = names.ToDictionary(n => n.Key, n => file.Position(n.Value), StringComparer.Ordinal);
        List<FarmLogRow> rows = [];
        int count = 0;
        foreach ((long line, string[] cells) in file.Rows())
        {
            cancellation.ThrowIfCancellationRequested();
            if (++count > MostRows)
            {
                throw new InputException(new InputProblem(path, line, 0, string.Empty, string.Empty, $"the log has more than {MostRows} rows"));
            }

            string Cell(string name) => places[name] < 0 ? string.Empty : cells[places[name]].Trim();
            DateTimeOffset? start = Time(path, line, "start", Cell("start"), true, problems);
            DateTimeOffset? end = Time(path, line, "end", Cell("end"), false, problems);
            if (!long.TryParse(Cell("frames"), NumberStyles.None, CultureInfo.InvariantCulture, out long frames) || frames < 1)
            {
                problems.Add(new(path, line, 0, "frames", Cell("frames"), "allowed is a whole number from 1"));
            }

            if (end < start)
            {
                problems.Add(new(path, line, 0, "end", Cell("end"), "lies before the start"));
            }

            if (problems.Count >= MostProblems)
            {
                break;
            }

            if (start is DateTimeOffset begun)
            {
                rows.Add(new(line, Cell("job"), Cell("node"), begun, end, frames, Cell("state")));
            }
        }

        return problems.Count == 0 ? rows : throw new InputException(problems);
    }

    private static DateTimeOffset? Time(string path, long line, string field, string text, bool needed, List<InputProblem> problems)
    {
        if (text.Length == 0 && !needed)
        {
            return null;
        }

        if (DateTimeOffset.TryParse(text, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out DateTimeOffset time))
        {
            return time;
        }

        problems.Add(new(path, line, 0, field, text, "allowed is a time such as 2031-05-04T22:10:00Z (without a zone it is read as UTC)"));
        return null;
    }
}
