using System.Collections.Immutable;
using System.Text;

namespace PostPipeline.Timecodes.Inventories;

/// <summary>Where the cells of each column stand, as the header and the mapping have it, and what they say in the row at hand.</summary>
internal sealed class InventoryCells
{
    private const int ColumnCount = (int)InventoryColumn.Height + 1;

    private readonly InventoryMapping mapping;
    private readonly InventoryProblems problems;
    private readonly int[] cellOf = new int[ColumnCount];
    private readonly byte[]?[] constants = new byte[]?[ColumnCount];
    private readonly ImmutableDictionary<string, string>?[] words = new ImmutableDictionary<string, string>?[ColumnCount];
    private readonly int[] ends = new int[CellSplitter.Capacity];
    private byte separator = (byte)',';
    private int count;
    private byte[] unquoted = [];

    // Where the row at hand begins.
    private int line;

    public InventoryCells(InventoryMapping mapping, InventoryProblems problems)
    {
        this.mapping = mapping;
        this.problems = problems;
        Array.Fill(cellOf, -1);
        foreach ((InventoryColumn column, string value) in mapping.Constants)
        {
            constants[(int)column] = Encoding.UTF8.GetBytes(value);
        }

        foreach ((InventoryColumn column, ImmutableDictionary<string, string> map) in mapping.Words)
        {
            words[(int)column] = map;
        }
    }

    /// <summary>Learns from the header where the columns stand.</summary>
    /// <param name="row">The header.</param>
    /// <param name="atLine">Its line.</param>
    /// <param name="unmapped">Takes the headers that give no column.</param>
    /// <returns>Whether every column that an inventory needs is there.</returns>
    public bool TakeHeader(ReadOnlySpan<byte> row, int atLine, List<string> unmapped)
    {
        int commas = row.Count((byte)',');
        int semicolons = row.Count((byte)';');
        int tabs = row.Count((byte)'\t');
        separator = tabs > commas && tabs >= semicolons ? (byte)'\t' : semicolons > commas ? (byte)';' : (byte)',';
        row = Unquote(row, out count);
        if (count < 0)
        {
            problems.Add(atLine, 1, "header", $"the header has more than {CellSplitter.Capacity} columns");
            return false;
        }

        for (int i = 0; i < count; i++)
        {
            int from = i == 0 ? 0 : ends[i - 1] + 1;
            string header = Encoding.UTF8.GetString(row[from..ends[i]]).Trim();
            if (mapping.ColumnOf(header) is not { } column)
            {
                unmapped.Add(header);
            }
            else if (cellOf[(int)column] >= 0)
            {
                problems.Add(atLine, from + 1, header, $"two columns give {InventoryMapping.HeaderOf(column)}; allowed is one");
                return false;
            }
            else
            {
                cellOf[(int)column] = i;
            }
        }

        return Require(atLine, InventoryColumn.Name) & Require(atLine, InventoryColumn.Rate)
            & (Has(InventoryColumn.Frames) || (Has(InventoryColumn.Start) && Has(InventoryColumn.End)) || Require(atLine, InventoryColumn.Frames));
    }

    /// <summary>Makes a row the one at hand.</summary>
    /// <param name="row">The row as it stands in the file.</param>
    /// <param name="atLine">Its line.</param>
    /// <param name="fits">Whether it has no more cells than are split.</param>
    /// <returns>The row with its quotation marks resolved; what the calls below are given.</returns>
    public ReadOnlySpan<byte> Split(ReadOnlySpan<byte> row, int atLine, out bool fits)
    {
        line = atLine;
        int cells = CellSplitter.Split(row, separator, ends);
        if (cells == -1)
        {
            row = Unquote(row, out cells);
        }

        fits = cells >= 0;
        if (fits)
        {
            count = cells;
        }

        return row;
    }

    /// <summary>Whether the header gives a column.</summary>
    public bool StandsInHeader(InventoryColumn column) => cellOf[(int)column] >= 0;

    /// <summary>What a column says in the row at hand; empty where it says nothing.</summary>
    public ReadOnlySpan<byte> Cell(ReadOnlySpan<byte> row, InventoryColumn column)
    {
        int cell = cellOf[(int)column];
        ReadOnlySpan<byte> text = default;
        if (cell < 0 && constants[(int)column] is null)
        {
            return text;
        }

        if (cell >= 0 && cell < count)
        {
            int from = cell == 0 ? 0 : ends[cell - 1] + 1;
            text = row[from..ends[cell]];
            if (text.Length > 0 && (text[0] is (byte)' ' or (byte)'\t' || text[^1] is (byte)' ' or (byte)'\t'))
            {
                text = text.Trim(" \t"u8);
            }
        }

        if (text.IsEmpty)
        {
            text = constants[(int)column];
        }

        if (words[(int)column] is { } map && map.TryGetValue(Encoding.UTF8.GetString(text), out string? other))
        {
            return Encoding.UTF8.GetBytes(other);
        }

        return text;
    }

    /// <summary>Notes what is wrong with a cell of the row at hand.</summary>
    public void Refuse(ReadOnlySpan<byte> row, InventoryColumn column, string message)
    {
        int cell = cellOf[(int)column];
        int at = cell <= 0 ? 1 : cell <= count ? ends[Math.Min(cell, count) - 1] + 2 : row.Length + 1;
        problems.Add(line, at, InventoryMapping.HeaderOf(column), message);
    }

    private bool Has(InventoryColumn column) => cellOf[(int)column] >= 0 || constants[(int)column] is not null;

    private bool Require(int atLine, InventoryColumn column)
    {
        if (Has(column))
        {
            return true;
        }

        string header = InventoryMapping.HeaderOf(column);
        problems.Add(atLine, 1, header, $"no column gives {header}; name one so, or map another header or a constant to it");
        return false;
    }

    private ReadOnlySpan<byte> Unquote(ReadOnlySpan<byte> row, out int cells)
    {
        // RFC 4180: a quoted cell may hold separators and line breaks; two quotation marks stand for one.
        if (unquoted.Length < row.Length)
        {
            unquoted = new byte[Math.Max(row.Length, 256)];
        }

        int written = 0;
        cells = 0;
        bool quoted = false;
        for (int i = 0; i < row.Length; i++)
        {
            byte c = row[i];
            if (c == '"' && quoted && i + 1 < row.Length && row[i + 1] == '"')
            {
                unquoted[written++] = c;
                i++;
            }
            else if (c == '"')
            {
                quoted = !quoted;
            }
            else if (c == separator && !quoted)
            {
                if (cells == CellSplitter.Capacity - 1)
                {
                    cells = -2;
                    return default;
                }

                // A separator inside quotation marks must not be taken for one afterwards, so ends are noted here.
                ends[cells++] = written;
                unquoted[written++] = c;
            }
            else
            {
                unquoted[written++] = c;
            }
        }

        ends[cells++] = written;
        return unquoted.AsSpan(0, written);
    }
}
