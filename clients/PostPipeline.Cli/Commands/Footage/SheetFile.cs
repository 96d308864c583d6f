using System.Globalization;
using PostPipeline.Cli.Frame;
using PostPipeline.Quantities;

namespace PostPipeline.Cli.Commands.Footage;

/// <summary>
/// A small comma-separated file with a header row; lines that start with # are comments. Cells hold no commas. Every
/// fault is said with file, line, column name, value and what is allowed.
/// </summary>
internal sealed class SheetFile
{
    private const int MostRows = 100_000;
    private readonly string path;
    private readonly Dictionary<string, int> columns = new(StringComparer.Ordinal);
    private readonly List<InputProblem> problems = [];
    private readonly List<(int Line, string[] Cells)> rows = [];
    private (int Line, string[] Cells) row;

    private SheetFile(string path) => this.path = path;

    public static async Task<SheetFile> ReadAsync(string path, string[] needed, string[] allowed, CancellationToken cancellation)
    {
        SheetFile sheet = new(path);
        int number = 0;
        foreach (string line in await File.ReadAllLinesAsync(path, cancellation).ConfigureAwait(false))
        {
            number++;
            if (line.Length == 0 || line[0] == '#')
            {
                continue;
            }

            string[] cells = [.. line.TrimStart('\uFEFF').Split(',').Select(c => c.Trim())];
            if (sheet.columns.Count == 0)
            {
                sheet.Header(number, cells, needed, allowed);
            }
            else if (cells.Length != sheet.columns.Count)
            {
                sheet.problems.Add(new(path, number, 0, string.Empty, string.Empty, $"the row has {cells.Length} cells; the header has {sheet.columns.Count}"));
            }
            else
            {
                sheet.rows.Add((number, cells));
            }
        }

        if (sheet.columns.Count == 0 || sheet.rows.Count > MostRows)
        {
            sheet.problems.Add(new(path, 0, 0, string.Empty, string.Empty, $"the file has {sheet.rows.Count} rows; allowed is a header row ({string.Join(',', allowed)}) and at most {MostRows} rows"));
        }

        sheet.ThrowIfAny();
        return sheet;
    }

    /// <summary>Goes through the rows; the cells below are those of the present one.</summary>
    public IEnumerable<int> Rows()
    {
        foreach ((int Line, string[] Cells) next in rows)
        {
            row = next;
            yield return next.Line;
        }
    }

    public string Text(string column) => columns.TryGetValue(column, out int index) ? row.Cells[index] : string.Empty;

    public long Size(string column, long ifEmpty = 0) =>
        Text(column).Length == 0 ? ifEmpty
        : long.TryParse(Text(column), NumberStyles.None, CultureInfo.InvariantCulture, out long bytes) ? bytes
        : QuantityText.TryParseSize(Text(column), out DataSize size, out string problem) ? size.Bytes : Add<long>(column, problem);

    public int Count(string column, int ifEmpty) =>
        Text(column).Length == 0 ? ifEmpty
        : int.TryParse(Text(column), NumberStyles.None, CultureInfo.InvariantCulture, out int count) ? count : Add<int>(column, "allowed is a whole number");

    /// <summary>Seconds after midnight: 14:30, 14:30:05 (hours may pass 24) or plain seconds.</summary>
    public double Clock(string column)
    {
        string[] parts = Text(column).Split(':');
        double[] values = new double[parts.Length];
        for (int i = 0; i < parts.Length; i++)
        {
            if (!double.TryParse(parts[i], NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out values[i]))
            {
                return Add<double>(column, "allowed is a time of day such as 14:30 or 14:30:05, or seconds after midnight");
            }
        }

        return values.Length switch
        {
            1 => values[0],
            2 => (values[0] * 3600) + (values[1] * 60),
            3 => (values[0] * 3600) + (values[1] * 60) + values[2],
            _ => Add<double>(column, "allowed is a time of day such as 14:30 or 14:30:05, or seconds after midnight"),
        };
    }

    public double Days(string column) =>
        double.TryParse(Text(column), NumberStyles.AllowDecimalPoint | NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out double days) ? days
        : Add<double>(column, "allowed is a number of days after the plan's first day, such as 25 or 25.5");

    /// <summary>Reads something of the present row; what cannot be used becomes a fault of this line.</summary>
    /// <param name="read">Names columns where it refuses.</param>
    public T? Read<T>(Func<T> read)
        where T : class
    {
        try
        {
            return read();
        }
        catch (InputException refused)
        {
            problems.AddRange(refused.Problems.Select(p => p with { File = path, Line = row.Line }));
            return null;
        }
    }

    /// <summary>Notes a fault of the present row where a condition does not hold.</summary>
    /// <param name="condition">What must hold.</param>
    /// <param name="column">The column at fault.</param>
    /// <param name="problem">What is wrong and what is allowed.</param>
    public void Require(bool condition, string column, string problem)
    {
        if (!condition)
        {
            Add<object>(column, problem);
        }
    }

    /// <summary>What a service refused, as a fault of a line of this file.</summary>
    /// <param name="line">The line.</param>
    /// <param name="field">The field below the row's own message; its first part may be the name of a column.</param>
    /// <param name="problem">What is wrong and what is allowed.</param>
    public InputProblem Refused(int line, string field, string problem)
    {
        string[] parts = field.Split('.', 2);
        string first = parts[0].Replace("_seconds", string.Empty, StringComparison.Ordinal);
        string? column = columns.Keys.FirstOrDefault(name => name == first || (first.Length > 3 && name.StartsWith(first, StringComparison.Ordinal)));
        string value = column is null ? string.Empty : rows.First(r => r.Line == line).Cells[columns[column]];
        string rest = column is null ? field : parts.Length > 1 ? parts[1] : string.Empty;
        return new(path, line, 0, column ?? string.Empty, value, rest.Length > 0 ? $"{rest} {problem}" : problem);
    }

    public void ThrowIfAny()
    {
        if (problems.Count > 0)
        {
            throw new InputException(problems);
        }
    }

    private void Header(int number, string[] cells, string[] needed, string[] allowed)
    {
        foreach (string name in cells)
        {
            if (!allowed.Contains(name) || !columns.TryAdd(name, columns.Count))
            {
                problems.Add(new(path, number, 0, name, string.Empty, $"is not a column, or stands twice; allowed are {string.Join(", ", allowed)}"));
                columns.TryAdd($"{name} {columns.Count}", columns.Count);
            }
        }

        problems.AddRange(needed.Where(n => !columns.ContainsKey(n)).Select(n => new InputProblem(path, number, 0, n, string.Empty, "is missing from the header")));
    }

    private T Add<T>(string column, string problem)
    {
        problems.Add(new(path, row.Line, 0, column, Text(column), problem));
        return default!;
    }
}
