using System.Globalization;
using System.Text;
using PostPipeline.Cli.Frame;

namespace PostPipeline.Cli.Commands.Farms;

/// <summary>Reads a farm's own log: CSV (RFC 4180) with the columns job, node, start, end, frames, state, by these names or by others that the user maps.</summary>
internal static class FarmLog
{
    private const int MostRows = 1_000_000;
    private static readonly string[] Needed = ["job", "node", "start", "end", "frames"];

    /// <summary>Reads a log.</summary>
    /// <param name="path">The file.</param>
    /// <param name="columns">Pairs such as job=Job name, for columns that have other names.</param>
    /// <exception cref="InputException">Every bad row, by its line.</exception>
    public static IReadOnlyList<FarmLogRow> Read(string path, IReadOnlyList<string> columns)
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

        List<FarmLogRow> rows = [];
        List<InputProblem> problems = [];
        Dictionary<string, int>? places = null;
        using StreamReader reader = new(path, new UTF8Encoding(false, true));
        foreach ((long line, List<string> cells) in Rows(reader))
        {
            if (places is null)
            {
                places = [];
                for (int i = 0; i < cells.Count; i++)
                {
                    places.TryAdd(cells[i], i);
                }

                foreach (string missing in Needed.Where(n => !places.ContainsKey(names[n])))
                {
                    problems.Add(new(path, 1, 0, missing, names[missing], "there is no such column; name it with --columns " + missing + "=COLUMN"));
                }

                if (problems.Count > 0)
                {
                    throw new InputException(problems);
                }

                continue;
            }

            string Cell(string name) => places.TryGetValue(names[name], out int at) && at < cells.Count ? cells[at].Trim() : string.Empty;
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

            if (start is DateTimeOffset begun)
            {
                rows.Add(new(line, Cell("job"), Cell("node"), begun, end, frames, Cell("state")));
            }

            if (rows.Count > MostRows)
            {
                throw new InputException(new InputProblem(path, line, 0, string.Empty, string.Empty, $"the log has more than {MostRows} rows"));
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

    private static IEnumerable<(long Line, List<string> Cells)> Rows(TextReader reader)
    {
        long line = 0;
        while (reader.ReadLine() is string text)
        {
            line++;
            long first = line;
            while (text.Count(c => c == '"') % 2 == 1 && reader.ReadLine() is string more)
            {
                line++;
                text += "\n" + more;
            }

            if (text.Length > 0)
            {
                yield return (first, Split(text));
            }
        }
    }

    private static List<string> Split(string text)
    {
        List<string> cells = [];
        StringBuilder cell = new();
        bool quoted = false;
        for (int i = 0; i < text.Length; i++)
        {
            char c = text[i];
            if (c == '"' && quoted && i + 1 < text.Length && text[i + 1] == '"')
            {
                cell.Append(c);
                i++;
            }
            else if (c == '"')
            {
                quoted = !quoted;
            }
            else if (c == ',' && !quoted)
            {
                cells.Add(cell.ToString());
                cell.Clear();
            }
            else
            {
                cell.Append(c);
            }
        }

        cells.Add(cell.ToString());
        return cells;
    }
}
