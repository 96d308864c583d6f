using System.Globalization;
using System.Text;
using PostPipeline.Notebooks.Rendering;

namespace PostPipeline.Notebooks.Charts;

/// <summary>The rows behind a chart, or a table in its own right: headed columns with units, cells of text, numbers and dates.</summary>
public sealed class NumberTable
{
    /// <summary>A table.</summary>
    /// <param name="title">What the rows are.</param>
    /// <param name="columns">The headings, each with its unit in it where it has one.</param>
    /// <param name="rows">The cells: text, numbers, dates or null (an empty cell).</param>
    /// <exception cref="ArgumentException">A row is not as long as the header.</exception>
    public NumberTable(string title, IReadOnlyList<string> columns, IReadOnlyList<IReadOnlyList<object?>> rows)
    {
        int wrong = rows.ToList().FindIndex(row => row.Count != columns.Count);
        if (wrong >= 0)
        {
            throw new ArgumentException($"rows[{wrong}] has {rows[wrong].Count} cells; allowed is {columns.Count}, one for each column", nameof(rows));
        }

        Title = title;
        Columns = columns;
        Rows = rows;
    }

    /// <summary>What the rows are.</summary>
    public string Title { get; }

    /// <summary>The headings.</summary>
    public IReadOnlyList<string> Columns { get; }

    /// <summary>The cells.</summary>
    public IReadOnlyList<IReadOnlyList<object?>> Rows { get; }

    /// <summary>Whether a column holds numbers only, and is therefore set flush right.</summary>
    /// <param name="column">The index of the column.</param>
    public bool IsNumeric(int column) => Rows.Count > 0 && Rows.All(row => row[column] is null or double or int or long or decimal or Chance);

    /// <summary>A cell as people read it.</summary>
    /// <param name="cell">Text, number, date or null.</param>
    public static string Read(object? cell) => cell switch
    {
        null => string.Empty,
        double number => Say.Number(number),
        long number => number.ToString("N0", CultureInfo.InvariantCulture),
        int number => number.ToString("N0", CultureInfo.InvariantCulture),
        decimal number => number.ToString("N2", CultureInfo.InvariantCulture),
        DateOnly date => Say.Date(date),
        DateTime date => Say.Date(date),
        bool yes => yes ? "yes" : "no",
        Chance chance => Say.Probability(chance.Value),
        _ when OwnTypes.Text(cell) is string own => own,
        IFormattable other => other.ToString(null, CultureInfo.InvariantCulture),
        _ => cell.ToString() ?? string.Empty,
    };

    /// <summary>
    /// The table as CSV (RFC 4180). A cell of text that begins with = + - @, a tab or a line break would be run as a formula
    /// by a spreadsheet, so it gets an apostrophe in front; numbers are left as they are.
    /// </summary>
    public string ToCsv()
    {
        StringBuilder text = new();
        text.AppendJoin(',', Columns.Select(CsvText)).Append("\r\n");
        foreach (IReadOnlyList<object?> row in Rows)
        {
            text.AppendJoin(',', row.Select(CsvCell)).Append("\r\n");
        }

        return text.ToString();
    }

    private static string CsvCell(object? cell) => cell switch
    {
        double number => number.ToString("R", CultureInfo.InvariantCulture),
        Chance chance => chance.Value.ToString("R", CultureInfo.InvariantCulture),
        long or int or decimal => ((IFormattable)cell).ToString(null, CultureInfo.InvariantCulture),
        DateOnly date => date.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
        DateTime date => date.ToString("yyyy-MM-dd'T'HH:mm", CultureInfo.InvariantCulture),
        _ => CsvText(Read(cell)),
    };

    private static string CsvText(string text)
    {
        string safe = text.Length > 0 && "=+-@\t\r\n".Contains(text[0]) ? "'" + text : text;
        return safe.AsSpan().IndexOfAny("\",\r\n'") >= 0 ? '"' + safe.Replace("\"", "\"\"", StringComparison.Ordinal) + '"' : safe;
    }
}
