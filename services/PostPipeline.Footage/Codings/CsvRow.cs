using System.Text;

namespace PostPipeline.Footage.Codings;

/// <summary>A row of comma-separated text with the place of each cell, so that an error can point at it.</summary>
internal sealed class CsvRow
{
    private readonly List<int> columns = [];
    private readonly List<string> cells = [];

    private CsvRow(int line) => Line = line;

    public int Line { get; }

    public IReadOnlyList<string> Cells => cells;

    public int ColumnOf(int cell) => cell >= 0 && cell < columns.Count ? columns[cell] : 1;

    /// <summary>Rows that are not empty and not comments; a quoted cell may hold commas and doubled quotes, not line ends.</summary>
    public static IEnumerable<CsvRow> Read(string text, List<FileProblem> problems)
    {
        int number = 0;
        foreach (string line in text.Split('\n'))
        {
            number++;
            string content = number == 1 ? line.TrimEnd('\r').TrimStart('\uFEFF') : line.TrimEnd('\r');
            if (content.Length == 0 || content[0] == '#')
            {
                continue;
            }

            CsvRow row = new(number);
            if (row.Split(content) is { } column)
            {
                problems.Add(new(number, column, string.Empty, "a quotation mark opens here and is not closed in this line"));
                continue;
            }

            yield return row;
        }
    }

    private int? Split(string line)
    {
        StringBuilder cell = new();
        for (int i = 0; ; i++)
        {
            columns.Add(i + 1);
            cell.Clear();
            if (i < line.Length && line[i] == '"')
            {
                int opened = i + 1;
                for (i++; ; i++)
                {
                    if (i >= line.Length)
                    {
                        return opened;
                    }

                    if (line[i] == '"' && i + 1 < line.Length && line[i + 1] == '"')
                    {
                        cell.Append(line[i++]);
                    }
                    else if (line[i] == '"')
                    {
                        i++;
                        break;
                    }
                    else
                    {
                        cell.Append(line[i]);
                    }
                }
            }

            for (; i < line.Length && line[i] != ','; i++)
            {
                cell.Append(line[i]);
            }

            cells.Add(cell.ToString());
            if (i >= line.Length)
            {
                return null;
            }
        }
    }
}
