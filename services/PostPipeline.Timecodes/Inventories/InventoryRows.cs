using System.Buffers.Text;
using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using PostPipeline.Quantities;

namespace PostPipeline.Timecodes.Inventories;

/// <summary>Understands the rows of an inventory, one at a time.</summary>
internal sealed class InventoryRows
{
    private const int ColumnCount = (int)InventoryColumn.Height + 1;

    private const int AverageNameBytes = 20;

    private readonly InventoryReadOptions options;
    private readonly InventoryBuilder builder = new();
    private readonly List<InventoryProblem> problems = [];
    private readonly List<string> unmapped = [];
    private readonly int[] cellOf = new int[ColumnCount];
    private readonly byte[]?[] constants = new byte[]?[ColumnCount];
    private readonly ImmutableDictionary<string, string>?[] words = new ImmutableDictionary<string, string>?[ColumnCount];
    private readonly int[] ends = new int[CellSplitter.Capacity];
    private byte separator = (byte)',';
    private int cellCount;
    private int rowCount;
    private int problemsLeftOff;
    private bool headerIsGood;
    private byte[] unquoted = [];
    private byte[] lastRate = [];
    private TimecodeFormat? lastFormat;
    private TimecodeFormat? lastDropFormat;
    private byte[] lastSensorRate = [];
    private ushort lastSensorRateId;
    private byte[] lastDate = [];
    private int lastDay;

    // The row at hand, for the cell accessor and the error messages.
    private int line;

    public InventoryRows(InventoryReadOptions options)
    {
        this.options = options;
        Array.Fill(cellOf, -1);
        foreach ((InventoryColumn column, string value) in options.Mapping.Constants)
        {
            constants[(int)column] = Encoding.UTF8.GetBytes(value);
        }

        foreach ((InventoryColumn column, ImmutableDictionary<string, string> map) in options.Mapping.Words)
        {
            words[(int)column] = map;
        }
    }

    public InventoryReading Finish() => new(builder.Build(), rowCount, [.. problems], problemsLeftOff, [.. unmapped]);

    /// <summary>Makes room for rows that are expected.</summary>
    public void Expect(int count) => builder.Columns.Reserve(count, count * AverageNameBytes);

    public void TakeHeader(ReadOnlySpan<byte> row, int atLine)
    {
        int commas = row.Count((byte)',');
        int semicolons = row.Count((byte)';');
        int tabs = row.Count((byte)'\t');
        separator = tabs > commas && tabs >= semicolons ? (byte)'\t' : semicolons > commas ? (byte)';' : (byte)',';
        row = Unquote(row, out cellCount);
        if (cellCount < 0)
        {
            Refuse(atLine, 1, "header", $"the header has more than {CellSplitter.Capacity} columns");
            return;
        }

        for (int i = 0; i < cellCount; i++)
        {
            int from = i == 0 ? 0 : ends[i - 1] + 1;
            string header = Encoding.UTF8.GetString(row[from..ends[i]]).Trim();
            if (options.Mapping.ColumnOf(header) is not { } column)
            {
                unmapped.Add(header);
            }
            else if (cellOf[(int)column] >= 0)
            {
                Refuse(atLine, from + 1, header, $"two columns give {InventoryMapping.HeaderOf(column)}; allowed is one");
                return;
            }
            else
            {
                cellOf[(int)column] = i;
            }
        }

        headerIsGood = Require(atLine, InventoryColumn.Name) & Require(atLine, InventoryColumn.Rate)
            & (Has(InventoryColumn.Frames) || (Has(InventoryColumn.Start) && Has(InventoryColumn.End)) || Require(atLine, InventoryColumn.Frames));
    }

    public void Take(ReadOnlySpan<byte> row, int atLine)
    {
        rowCount++;
        line = atLine;
        if (!headerIsGood)
        {
            return;
        }

        if (builder.Count >= options.MaximumRows)
        {
            if (rowCount == options.MaximumRows + 1)
            {
                Refuse(atLine, 1, "row", $"the inventory has more than {options.MaximumRows} rows, which is the limit");
            }

            return;
        }

        int cells = CellSplitter.Split(row, separator, ends);
        if (cells == -1)
        {
            row = Unquote(row, out cells);
        }

        if (cells < 0)
        {
            Refuse(atLine, 1, "row", $"the row has more than {CellSplitter.Capacity} cells");
            return;
        }

        cellCount = cells;
        TakeCells(row);
    }

    public void Refuse(int atLine, int column, string field, string message)
    {
        if (problems.Count < options.MaximumProblems)
        {
            problems.Add(new(atLine, column, field, message));
        }
        else
        {
            problemsLeftOff++;
        }
    }

    private bool Has(InventoryColumn column) => cellOf[(int)column] >= 0 || constants[(int)column] is not null;

    private bool Require(int atLine, InventoryColumn column)
    {
        if (Has(column))
        {
            return true;
        }

        string header = InventoryMapping.HeaderOf(column);
        Refuse(atLine, 1, header, $"no column gives {header}; name one so, or map another header or a constant to it");
        return false;
    }

    private void TakeCells(ReadOnlySpan<byte> row)
    {
        ReadOnlySpan<byte> name = Cell(row, InventoryColumn.Name);
        if (name.Length is 0 or > Clip.MaximumNameBytes)
        {
            Refuse(row, InventoryColumn.Name, $"the name has {name.Length} bytes; allowed are 1 to {Clip.MaximumNameBytes}");
            return;
        }

        ReadOnlySpan<byte> start = Cell(row, InventoryColumn.Start);
        if (!TryFormat(row, start, out TimecodeFormat? format)
            || !TryLabel(row, InventoryColumn.Start, start, format, out long startFrame)
            || !TryFrames(row, format, startFrame, out long frames)
            || !TryKind(row, out ClipKind kind)
            || !TryTrimmable(row, out Trimmability trimmable)
            || !TryDate(row, out int day)
            || !TryWhole(row, InventoryColumn.Bytes, 0, long.MaxValue, -1, out long bytes)
            || !TryWhole(row, InventoryColumn.Chunk, 1, 1_000_000, 0, out long chunk)
            || !TryWhole(row, InventoryColumn.Chunks, 1, 1_000_000, 0, out long chunks)
            || !TrySensorRate(row, out ushort sensorRate)
            || !TryRaster(row, out ushort raster)
            || !TryCamera(row, out ushort camera))
        {
            return;
        }

        if (builder.Formats.Count >= ValueTable<TimecodeFormat>.Maximum)
        {
            Refuse(row, InventoryColumn.Rate, $"the inventory has more than {ValueTable<TimecodeFormat>.Maximum} different rates");
            return;
        }

        ReadOnlySpan<byte> reel = Cell(row, InventoryColumn.Reel);
        ReadOnlySpan<byte> medium = Cell(row, InventoryColumn.Medium);
        int added = builder.AddRow(name);
        ClipRows columns = builder.Columns;
        columns.Rows[added].Reel = builder.Reels.Intern(reel.IsEmpty ? FoldedText.Stem(name) : reel);
        columns.Rows[added].Start = (int)startFrame;
        columns.Rows[added].Frames = (int)frames;
        columns.Rows[added].Bytes = bytes;
        columns.Rows[added].Medium = medium.IsEmpty ? -1 : builder.Media.Intern(medium);
        columns.Rows[added].Day = day;
        columns.Rows[added].Format = FormatId(format);
        columns.Rows[added].SensorRate = sensorRate;
        columns.Rows[added].Raster = raster;
        columns.Rows[added].Camera = camera;
        columns.Rows[added].Flags = ClipRows.FlagsOf(kind, trimmable);
        if (chunk > 0)
        {
            builder.ChunkRows.Add(new(added, Encoding.UTF8.GetString(Cell(row, InventoryColumn.Take)), (int)chunk, (int)chunks));
        }
    }

    private TimecodeFormat? idFormat;
    private ushort idOfFormat;

    private ushort FormatId(TimecodeFormat format)
    {
        if (!ReferenceEquals(format, idFormat))
        {
            idFormat = format;
            idOfFormat = builder.Formats.Intern(format);
        }

        return idOfFormat;
    }

    private ReadOnlySpan<byte> Cell(ReadOnlySpan<byte> row, InventoryColumn column)
    {
        int cell = cellOf[(int)column];
        ReadOnlySpan<byte> text = default;
        if (cell < 0 && constants[(int)column] is null)
        {
            return text;
        }

        if (cell >= 0 && cell < cellCount)
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

    private bool TryFormat(ReadOnlySpan<byte> row, ReadOnlySpan<byte> start, [System.Diagnostics.CodeAnalysis.NotNullWhen(true)] out TimecodeFormat? format)
    {
        ReadOnlySpan<byte> rate = Cell(row, InventoryColumn.Rate);
        format = null;
        if (lastFormat is null || !rate.SequenceEqual(lastRate))
        {
            if (!FrameRate.TryParse(Wide(rate), out FrameRate parsed, out string problem))
            {
                Refuse(row, InventoryColumn.Rate, problem);
                return false;
            }

            if (parsed.Nominal > Clip.MaximumNominalRate)
            {
                Refuse(row, InventoryColumn.Rate, $"labels count {parsed} frames a second; allowed are at most {Clip.MaximumNominalRate}");
                return false;
            }

            lastRate = rate.ToArray();
            lastFormat = TimecodeFormat.From(parsed);
            lastDropFormat = TimecodeFormat.AllowsDropFrame(parsed) ? TimecodeFormat.From(parsed, dropFrame: true) : null;
        }

        bool drop = start.Contains((byte)';');
        ReadOnlySpan<byte> stated = Cell(row, InventoryColumn.Drop);
        if (!stated.IsEmpty)
        {
            bool? said = YesNo(stated);
            if (said is null || (drop && said == false))
            {
                Refuse(row, InventoryColumn.Drop, $"'{Encoding.UTF8.GetString(stated)}' does not fit; allowed are yes and no, and no only where the label has no semicolon");
                return false;
            }

            drop = said.Value;
        }

        if (drop && lastDropFormat is null)
        {
            Refuse(row, cellOf[(int)InventoryColumn.Drop] >= 0 ? InventoryColumn.Drop : InventoryColumn.Start, $"drop-frame numbering does not exist at {lastFormat} frames per second; it exists at 30000/1001, 60000/1001 and 120000/1001 only");
            return false;
        }

        format = drop ? lastDropFormat! : lastFormat;
        return true;
    }

    private bool TryLabel(ReadOnlySpan<byte> row, InventoryColumn column, ReadOnlySpan<byte> text, TimecodeFormat format, out long frame)
    {
        frame = -1;
        if (text.IsEmpty)
        {
            return true;
        }

        if (Timecode.TryParse(text, format, out Timecode label, out LabelError error))
        {
            frame = label.FrameIndex;
            return true;
        }

        Refuse(row, column, error.Describe(Wide(text), format));
        return false;
    }

    private bool TryFrames(ReadOnlySpan<byte> row, TimecodeFormat format, long startFrame, out long frames)
    {
        if (!TryWhole(row, InventoryColumn.Frames, 1, Clip.MaximumFrames, -1, out frames))
        {
            return false;
        }

        if (frames > 0)
        {
            return true;
        }

        ReadOnlySpan<byte> end = Cell(row, InventoryColumn.End);
        if (startFrame < 0 || end.IsEmpty)
        {
            Refuse(row, InventoryColumn.Frames, "the cell is empty; give frames, or start and end");
            return false;
        }

        if (!TryLabel(row, InventoryColumn.End, end, format, out long endFrame))
        {
            return false;
        }

        frames = format.Wrap(endFrame - startFrame);
        if (frames == 0)
        {
            Refuse(row, InventoryColumn.End, "start and end are the same label; a clip has at least one frame");
            return false;
        }

        return true;
    }

    private bool TryKind(ReadOnlySpan<byte> row, out ClipKind kind)
    {
        ReadOnlySpan<byte> text = Cell(row, InventoryColumn.Kind);
        kind = ClipKind.Original;
        if (text.IsEmpty || Ascii.EqualsIgnoreCase(text, "original"u8))
        {
            return true;
        }

        if (Ascii.EqualsIgnoreCase(text, "proxy"u8))
        {
            kind = ClipKind.Proxy;
            return true;
        }

        if (Ascii.EqualsIgnoreCase(text, "mezzanine"u8))
        {
            kind = ClipKind.Mezzanine;
            return true;
        }

        Refuse(row, InventoryColumn.Kind, $"'{Encoding.UTF8.GetString(text)}' is not a kind; allowed are original, proxy, mezzanine");
        return false;
    }

    private bool TryTrimmable(ReadOnlySpan<byte> row, out Trimmability trimmable)
    {
        ReadOnlySpan<byte> text = Cell(row, InventoryColumn.Trimmable);
        trimmable = Trimmability.Unknown;
        if (text.IsEmpty || Ascii.EqualsIgnoreCase(text, "unknown"u8))
        {
            return true;
        }

        if (YesNo(text) is { } said)
        {
            trimmable = said ? Trimmability.Yes : Trimmability.No;
            return true;
        }

        Refuse(row, InventoryColumn.Trimmable, $"'{Encoding.UTF8.GetString(text)}' does not fit; allowed are yes, no, unknown");
        return false;
    }

    private bool TryDate(ReadOnlySpan<byte> row, out int day)
    {
        ReadOnlySpan<byte> text = Cell(row, InventoryColumn.Date);
        day = -1;
        if (text.IsEmpty)
        {
            return true;
        }

        if (text.SequenceEqual(lastDate))
        {
            day = lastDay;
            return true;
        }

        if (text.Length == 10 && text[4] == '-' && text[7] == '-'
            && Utf8Parser.TryParse(text[..4], out int year, out int used) && used == 4
            && Utf8Parser.TryParse(text[5..7], out int month, out used) && used == 2
            && Utf8Parser.TryParse(text[8..], out int dayOfMonth, out used) && used == 2
            && year is >= 1900 and <= 9999 && month is >= 1 and <= 12 && dayOfMonth >= 1 && dayOfMonth <= DateTime.DaysInMonth(year, month))
        {
            day = lastDay = new DateOnly(year, month, dayOfMonth).DayNumber;
            lastDate = text.ToArray();
            return true;
        }

        Refuse(row, InventoryColumn.Date, $"'{Encoding.UTF8.GetString(text)}' is not a date; allowed is YYYY-MM-DD from 1900 on");
        return false;
    }

    private bool TryWhole(ReadOnlySpan<byte> row, InventoryColumn column, long low, long high, long absent, out long value)
    {
        ReadOnlySpan<byte> text = Cell(row, column);
        value = absent;
        if (text.IsEmpty)
        {
            return true;
        }

        if (Utf8Parser.TryParse(text, out value, out int used) && used == text.Length && value >= low && value <= high)
        {
            return true;
        }

        Refuse(row, column, $"'{Encoding.UTF8.GetString(text)}' does not fit; allowed are whole numbers from {low} to {high}");
        return false;
    }

    private bool TrySensorRate(ReadOnlySpan<byte> row, out ushort id)
    {
        ReadOnlySpan<byte> text = Cell(row, InventoryColumn.SensorRate);
        id = 0;
        if (text.IsEmpty)
        {
            return true;
        }

        if (!text.SequenceEqual(lastSensorRate))
        {
            if (!FrameRate.TryParse(Wide(text), out FrameRate rate, out string problem))
            {
                Refuse(row, InventoryColumn.SensorRate, problem);
                return false;
            }

            if (builder.SensorRates.Count >= ValueTable<FrameRate>.Maximum)
            {
                Refuse(row, InventoryColumn.SensorRate, $"the inventory has more than {ValueTable<FrameRate>.Maximum} different sensor rates");
                return false;
            }

            lastSensorRate = text.ToArray();
            lastSensorRateId = builder.SensorRates.Intern(rate);
        }

        id = lastSensorRateId;
        return true;
    }

    private bool TryRaster(ReadOnlySpan<byte> row, out ushort id)
    {
        id = 0;
        if (!TryWhole(row, InventoryColumn.Width, 1, ushort.MaxValue, 0, out long width)
            || !TryWhole(row, InventoryColumn.Height, 1, ushort.MaxValue, 0, out long height))
        {
            return false;
        }

        if (width == 0 || height == 0)
        {
            return true;
        }

        if (builder.Rasters.Count >= ValueTable<Raster>.Maximum)
        {
            Refuse(row, InventoryColumn.Width, $"the inventory has more than {ValueTable<Raster>.Maximum} different picture sizes");
            return false;
        }

        id = builder.Rasters.Intern(Raster.From((int)width, (int)height));
        return true;
    }

    private bool TryCamera(ReadOnlySpan<byte> row, out ushort id)
    {
        ReadOnlySpan<byte> text = Cell(row, InventoryColumn.Camera);
        id = 0;
        if (text.IsEmpty)
        {
            return true;
        }

        if (builder.Cameras.Count >= ushort.MaxValue - 1 && builder.Cameras.Find(text) < 0)
        {
            Refuse(row, InventoryColumn.Camera, $"the inventory has more than {ushort.MaxValue - 1} different cameras");
            return false;
        }

        id = builder.CameraId(text);
        return true;
    }

    private static bool? YesNo(ReadOnlySpan<byte> text) =>
        Ascii.EqualsIgnoreCase(text, "yes"u8) ? true : Ascii.EqualsIgnoreCase(text, "no"u8) ? false : null;

    private static string Wide(ReadOnlySpan<byte> text) => Encoding.UTF8.GetString(text);

    private void Refuse(ReadOnlySpan<byte> row, InventoryColumn column, string message)
    {
        int cell = cellOf[(int)column];
        int at = cell <= 0 ? 1 : cell <= cellCount ? ends[Math.Min(cell, cellCount) - 1] + 2 : row.Length + 1;
        Refuse(line, at, InventoryMapping.HeaderOf(column), message);
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
