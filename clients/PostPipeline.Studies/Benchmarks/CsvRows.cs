using System.Collections.Immutable;
using System.Text;

namespace PostPipeline.Studies.Benchmarks;

/// <summary>Reads comma-separated text (RFC 4180) row by row, so that a file of any length takes little memory.</summary>
public static class CsvRows
{
    /// <summary>The longest row, in characters.</summary>
    public const int LongestRow = 100_000;

    /// <summary>The rows of a text, the header among them, with the line on which each begins.</summary>
    /// <param name="text">The text; lines end in LF or CR LF.</param>
    /// <exception cref="CsvFormatException">A quote is not closed, or a row is too long.</exception>
    public static IEnumerable<(long Line, string[] Cells)> Read(TextReader text)
    {
        List<string> cells = [];
        StringBuilder cell = new();
        long line = 1;
        long first = 1;
        int length = 0;
        bool quoted = false;
        bool any = false;
        for (int c = text.Read(); c >= 0; c = text.Read())
        {
            if (++length > LongestRow)
            {
                throw new CsvFormatException(first, $"the row has more than {LongestRow} characters; is a quote left open?");
            }

            any = true;
            if (quoted)
            {
                if (c == '"' && text.Peek() == '"')
                {
                    cell.Append((char)text.Read());
                }
                else if (c == '"')
                {
                    quoted = false;
                }
                else
                {
                    line += c == '\n' ? 1 : 0;
                    cell.Append((char)c);
                }
            }
            else if (c == '"' && cell.Length == 0)
            {
                quoted = true;
            }
            else if (c == ',')
            {
                cells.Add(cell.ToString());
                cell.Clear();
            }
            else if (c == '\n')
            {
                line++;
                if (cells.Count > 0 || cell.Length > 0)
                {
                    cells.Add(cell.ToString());
                    yield return (first, [.. cells]);
                }

                cells.Clear();
                cell.Clear();
                (first, length, any) = (line, 0, false);
            }
            else if (c != '\r' && !(c == '\uFEFF' && first == 1 && cells.Count == 0))
            {
                cell.Append((char)c);
            }
        }

        if (quoted)
        {
            throw new CsvFormatException(first, "a quote is opened and not closed");
        }

        if (any && (cells.Count > 0 || cell.Length > 0))
        {
            cells.Add(cell.ToString());
            yield return (first, [.. cells]);
        }
    }

    /// <summary>A header and rows as text, where no cell needs quotation marks.</summary>
    /// <param name="columns">The header.</param>
    /// <param name="rows">The rows.</param>
    internal static string Plain(IEnumerable<string> columns, IEnumerable<ImmutableArray<string>> rows)
    {
        StringBuilder text = new();
        text.AppendJoin(',', columns).Append('\n');
        foreach (ImmutableArray<string> row in rows)
        {
            text.AppendJoin(',', row).Append('\n');
        }

        return text.ToString();
    }

    /// <summary>A cell as it may be written: quoted where needed, and marked where a spreadsheet would take it for a formula.</summary>
    /// <param name="value">The value.</param>
    public static string Cell(string value)
    {
        bool formula = value.Length > 0 && "=+-@".Contains(value[0]) && !double.TryParse(value, out _);
        return formula || value.AsSpan().IndexOfAny(',', '"', '\n') >= 0 || value.Contains('\r')
            ? $"\"{(formula ? "'" : string.Empty)}{value.Replace("\"", "\"\"", StringComparison.Ordinal)}\""
            : value;
    }
}
