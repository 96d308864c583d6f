using System.Text;

namespace PostPipeline.Timecodes.Conforming;

/// <summary>Cells of CSV (RFC 4180).</summary>
internal static class CsvText
{
    /// <summary>A cell, quoted where it must be, and where a spreadsheet would take it for a formula.</summary>
    public static string Cell(string text)
    {
        bool formula = text.Length > 0 && text[0] is '=' or '+' or '-' or '@';
        return formula || text.AsSpan().IndexOfAny(",\"\r\n") >= 0
            ? $"\"{text.Replace("\"", "\"\"", StringComparison.Ordinal)}\""
            : text;
    }

    /// <summary>Adds a row.</summary>
    public static void Row(StringBuilder text, params ReadOnlySpan<string> cells)
    {
        for (int i = 0; i < cells.Length; i++)
        {
            text.Append(i == 0 ? string.Empty : ",").Append(Cell(cells[i]));
        }

        text.Append("\r\n");
    }
}
