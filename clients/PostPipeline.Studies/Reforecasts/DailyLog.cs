using System.Globalization;
using NodaTime;
using PostPipeline.Quantities;
using PostPipeline.Studies.Briefs;

namespace PostPipeline.Studies.Reforecasts;

/// <summary>
/// Reads a daily log: CSV with the columns date, unit, cameras, bytes, minutes, clips, events_conformed, problem_events,
/// farm_frames, farm_seconds. Date, unit and bytes are needed; other cells may be empty. Bytes are a whole number, or an
/// amount with its unit.
/// </summary>
public static class DailyLog
{
    /// <summary>The most rows: 366 days of a hundred units.</summary>
    public const int MaximumRows = 36_600;

    /// <summary>The columns.</summary>
    public static IReadOnlyList<string> Columns { get; } =
        ["date", "unit", "cameras", "bytes", "minutes", "clips", "events_conformed", "problem_events", "farm_frames", "farm_seconds"];

    private static readonly string[] Required = ["date", "unit", "bytes"];

    /// <summary>Reads a log from a file.</summary>
    /// <param name="path">The file, at most 1 MB.</param>
    /// <param name="brief">The brief whose units it speaks of.</param>
    /// <exception cref="BriefException">The file cannot be used; every problem is listed.</exception>
    public static IReadOnlyList<LogDay> ReadFile(string path, Brief brief) => Read(path, BriefText.Read(path), brief);

    /// <summary>Reads a log from its text.</summary>
    /// <param name="file">What to call it in messages.</param>
    /// <param name="text">The text.</param>
    /// <param name="brief">The brief whose units it speaks of.</param>
    public static IReadOnlyList<LogDay> Read(string file, string text, Brief brief)
    {
        List<BriefProblem> problems = [];
        string[] lines = text.ReplaceLineEndings("\n").Split('\n');
        string[] head = [.. lines[0].Split(',').Select(c => c.Trim())];
        foreach (string column in head.Where(c => !Columns.Contains(c)))
        {
            problems.Add(new(file, 1, 1, column, string.Empty, NearestWord.Of(column, Columns) is { } near ? $"this column is not known; did you mean '{near}'?" : $"this column is not known; known are {string.Join(", ", Columns)}"));
        }

        foreach (string column in Required.Where(c => !head.Contains(c)))
        {
            problems.Add(new(file, 1, 1, column, string.Empty, "this column is missing"));
        }

        List<LogDay> days = [];
        for (int i = 1; i < lines.Length && problems.Count < 100; i++)
        {
            if (lines[i].Trim().Length > 0)
            {
                Row row = new(file, i + 1, head, lines[i].Split(','), problems);
                Add(days, row, brief, problems);
            }
        }

        if (days.Count > MaximumRows)
        {
            problems.Add(new(file, 0, 0, string.Empty, string.Empty, $"the log has {days.Count} rows; allowed is {MaximumRows}"));
        }

        return problems.Count == 0 ? [.. days.OrderBy(d => d.Date)] : throw new BriefException(problems);
    }

    private static void Add(List<LogDay> days, Row row, Brief brief, List<BriefProblem> problems)
    {
        if (!BriefDates.TryDate(row["date"], out LocalDate date))
        {
            row.Problem("date", "a date such as 2027-03-31 is expected");
            return;
        }

        string unit = row["unit"];
        if (brief.Shoot.Units.All(u => u.Name != unit))
        {
            row.Problem("unit", $"no unit has this name; the units are {string.Join(", ", brief.Shoot.Units.Select(u => u.Name))}");
        }

        if (days.Any(d => d.Date == date && d.Unit == unit))
        {
            row.Problem("date", $"the day of unit {unit} stands twice; keep one row");
        }

        int before = problems.Count;
        LogDay day = new(
            date, unit, row.Number("cameras"), row.Bytes("bytes"), row.Number("minutes"), row.Number("clips"),
            row.Number("events_conformed"), row.Number("problem_events"), row.Number("farm_frames"), row.Number("farm_seconds"));
        if (problems.Count == before)
        {
            days.Add(day);
        }
    }

    private sealed class Row(string file, int line, string[] head, string[] cells, List<BriefProblem> problems)
    {
        public string this[string column] => Array.IndexOf(head, column) is int place and >= 0 && place < cells.Length ? cells[place].Trim().Trim('"') : string.Empty;

        public void Problem(string column, string message) =>
            problems.Add(new(file, line, Array.IndexOf(head, column) + 1, column, this[column], message));

        public double Number(string column)
        {
            string text = this[column];
            if (text.Length == 0)
            {
                return double.NaN;
            }

            if (double.TryParse(text, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double value) && value <= 1e15)
            {
                return value;
            }

            Problem(column, "a number of 0 or more is expected");
            return double.NaN;
        }

        public double Bytes(string column)
        {
            string text = this[column];
            if (long.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out long bytes))
            {
                return bytes;
            }

            if (QuantityText.TryParseSize(text, out DataSize size, out string problem))
            {
                return size.Bytes;
            }

            Problem(column, problem);
            return double.NaN;
        }
    }
}
