using System.Text;

namespace PostPipeline.Testing;

/// <summary>A small CSV table of check values (RFC 4180 quoting), read whole.</summary>
public sealed class CsvTable
{
    private readonly Dictionary<string, int> columns;

    private CsvTable(List<string[]> rows)
    {
        columns = rows[0].Select((name, index) => (name, index)).ToDictionary(c => c.name, c => c.index);
        Rows = [.. rows.Skip(1).Select(cells => new Row(this, cells))];
    }

    /// <summary>The rows below the header.</summary>
    public IReadOnlyList<Row> Rows { get; }

    /// <summary>Reads a file.</summary>
    /// <param name="path">A UTF-8 file with a header row.</param>
    public static CsvTable Read(string path)
    {
        List<string[]> rows = [];
        List<string> cells = [];
        StringBuilder cell = new();
        bool quoted = false;
        string text = File.ReadAllText(path);
        for (int i = 0; i < text.Length; i++)
        {
            char c = text[i];
            if (quoted)
            {
                if (c == '"' && i + 1 < text.Length && text[i + 1] == '"')
                {
                    cell.Append('"');
                    i++;
                }
                else if (c == '"')
                {
                    quoted = false;
                }
                else
                {
                    cell.Append(c);
                }
            }
            else if (c == '"')
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
                cells.Add(cell.ToString().TrimEnd('\r'));
                cell.Clear();
                rows.Add([.. cells]);
                cells.Clear();
            }
            else
            {
                cell.Append(c);
            }
        }

        if (cell.Length > 0 || cells.Count > 0)
        {
            cells.Add(cell.ToString());
            rows.Add([.. cells]);
        }

        return new(rows);
    }

    /// <summary>One row; cells by column name.</summary>
    public sealed class Row(CsvTable table, string[] cells)
    {
        /// <summary>The cell under a column name; empty where the row is short.</summary>
        public string this[string column] => table.columns[column] < cells.Length ? cells[table.columns[column]] : string.Empty;
    }
}
