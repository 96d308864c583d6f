using System.Buffers.Text;
using System.Diagnostics.CodeAnalysis;
using System.Text;
using PostPipeline.Quantities;

namespace PostPipeline.Timecodes.Inventories;

/// <summary>
/// Understands the cells of a row. Each call gives false, and notes what is wrong, where a cell cannot be understood; an
/// empty cell can. What a million rows repeat is understood once.
/// </summary>
internal sealed class InventoryValues(InventoryCells cells, InventoryBuilder builder)
{
    private byte[] lastRate = [];
    private TimecodeFormat? lastFormat;
    private TimecodeFormat? lastDropFormat;
    private byte[] lastSensorRate = [];
    private ushort lastSensorRateId;
    private byte[] lastDate = [];
    private int lastDay;

    /// <summary>Rate and numbering of the labels.</summary>
    public bool TryFormat(ReadOnlySpan<byte> row, ReadOnlySpan<byte> start, [NotNullWhen(true)] out TimecodeFormat? format)
    {
        ReadOnlySpan<byte> rate = cells.Cell(row, InventoryColumn.Rate);
        format = null;
        if (lastFormat is null || !rate.SequenceEqual(lastRate))
        {
            if (!FrameRate.TryParse(Encoding.UTF8.GetString(rate), out FrameRate parsed, out string problem))
            {
                cells.Refuse(row, InventoryColumn.Rate, problem);
                return false;
            }

            if (parsed.Nominal > Clip.MaximumNominalRate)
            {
                cells.Refuse(row, InventoryColumn.Rate, $"labels count {parsed} frames a second; allowed are at most {Clip.MaximumNominalRate}");
                return false;
            }

            lastRate = rate.ToArray();
            lastFormat = TimecodeFormat.From(parsed);
            lastDropFormat = TimecodeFormat.AllowsDropFrame(parsed) ? TimecodeFormat.From(parsed, dropFrame: true) : null;
        }

        bool drop = start.Contains((byte)';');
        ReadOnlySpan<byte> stated = cells.Cell(row, InventoryColumn.Drop);
        if (!stated.IsEmpty)
        {
            bool? said = YesNo(stated);
            if (said is null || (drop && said == false))
            {
                cells.Refuse(row, InventoryColumn.Drop, $"'{Encoding.UTF8.GetString(stated)}' does not fit; allowed are yes and no, and no only where the label has no semicolon");
                return false;
            }

            drop = said.Value;
        }

        if (drop && lastDropFormat is null)
        {
            cells.Refuse(row, cells.StandsInHeader(InventoryColumn.Drop) ? InventoryColumn.Drop : InventoryColumn.Start, $"drop-frame numbering does not exist at {lastFormat} frames per second; it exists at 30000/1001, 60000/1001 and 120000/1001 only");
            return false;
        }

        format = drop ? lastDropFormat! : lastFormat;
        return true;
    }

    /// <summary>A label as a frame; −1 where the cell is empty.</summary>
    public bool TryLabel(ReadOnlySpan<byte> row, InventoryColumn column, ReadOnlySpan<byte> text, TimecodeFormat format, out long frame)
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

        cells.Refuse(row, column, error.Describe(Encoding.UTF8.GetString(text), format));
        return false;
    }

    /// <summary>The length, as it is given or between two labels.</summary>
    public bool TryFrames(ReadOnlySpan<byte> row, TimecodeFormat format, long startFrame, out long frames)
    {
        if (!TryWhole(row, InventoryColumn.Frames, 1, Clip.MaximumFrames, -1, out frames))
        {
            return false;
        }

        if (frames > 0)
        {
            return true;
        }

        ReadOnlySpan<byte> end = cells.Cell(row, InventoryColumn.End);
        if (startFrame < 0 || end.IsEmpty)
        {
            cells.Refuse(row, InventoryColumn.Frames, "the cell is empty; give frames, or start and end");
            return false;
        }

        if (!TryLabel(row, InventoryColumn.End, end, format, out long endFrame))
        {
            return false;
        }

        frames = format.Wrap(endFrame - startFrame);
        if (frames == 0)
        {
            cells.Refuse(row, InventoryColumn.End, "start and end are the same label; a clip has at least one frame");
            return false;
        }

        return true;
    }

    /// <summary>What kind of clip it is.</summary>
    public bool TryKind(ReadOnlySpan<byte> row, out ClipKind kind)
    {
        ReadOnlySpan<byte> text = cells.Cell(row, InventoryColumn.Kind);
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

        cells.Refuse(row, InventoryColumn.Kind, $"'{Encoding.UTF8.GetString(text)}' is not a kind; allowed are original, proxy, mezzanine");
        return false;
    }

    /// <summary>Whether a range can be cut out of it.</summary>
    public bool TryTrimmable(ReadOnlySpan<byte> row, out Trimmability trimmable)
    {
        ReadOnlySpan<byte> text = cells.Cell(row, InventoryColumn.Trimmable);
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

        cells.Refuse(row, InventoryColumn.Trimmable, $"'{Encoding.UTF8.GetString(text)}' does not fit; allowed are yes, no, unknown");
        return false;
    }

    /// <summary>The day; −1 where the cell is empty.</summary>
    public bool TryDate(ReadOnlySpan<byte> row, out int day)
    {
        ReadOnlySpan<byte> text = cells.Cell(row, InventoryColumn.Date);
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

        cells.Refuse(row, InventoryColumn.Date, $"'{Encoding.UTF8.GetString(text)}' is not a date; allowed is YYYY-MM-DD from 1900 on");
        return false;
    }

    /// <summary>A whole number.</summary>
    public bool TryWhole(ReadOnlySpan<byte> row, InventoryColumn column, long low, long high, long absent, out long value)
    {
        ReadOnlySpan<byte> text = cells.Cell(row, column);
        value = absent;
        if (text.IsEmpty)
        {
            return true;
        }

        if (Utf8Parser.TryParse(text, out value, out int used) && used == text.Length && value >= low && value <= high)
        {
            return true;
        }

        cells.Refuse(row, column, $"'{Encoding.UTF8.GetString(text)}' does not fit; allowed are whole numbers from {low} to {high}");
        return false;
    }

    /// <summary>The place of the sensor rate among those seen; 0 where the cell is empty.</summary>
    public bool TrySensorRate(ReadOnlySpan<byte> row, out ushort id)
    {
        ReadOnlySpan<byte> text = cells.Cell(row, InventoryColumn.SensorRate);
        id = 0;
        if (text.IsEmpty)
        {
            return true;
        }

        if (!text.SequenceEqual(lastSensorRate))
        {
            if (!FrameRate.TryParse(Encoding.UTF8.GetString(text), out FrameRate rate, out string problem))
            {
                cells.Refuse(row, InventoryColumn.SensorRate, problem);
                return false;
            }

            if (builder.SensorRates.Count >= ValueTable<FrameRate>.Maximum)
            {
                cells.Refuse(row, InventoryColumn.SensorRate, $"the inventory has more than {ValueTable<FrameRate>.Maximum} different sensor rates");
                return false;
            }

            lastSensorRate = text.ToArray();
            lastSensorRateId = builder.SensorRates.Intern(rate);
        }

        id = lastSensorRateId;
        return true;
    }

    /// <summary>The place of the picture size among those seen; 0 where the cells are empty.</summary>
    public bool TryRaster(ReadOnlySpan<byte> row, out ushort id)
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
            cells.Refuse(row, InventoryColumn.Width, $"the inventory has more than {ValueTable<Raster>.Maximum} different picture sizes");
            return false;
        }

        id = builder.Rasters.Intern(Raster.From((int)width, (int)height));
        return true;
    }

    /// <summary>The place of the camera among those seen; 0 where the cell is empty.</summary>
    public bool TryCamera(ReadOnlySpan<byte> row, out ushort id)
    {
        ReadOnlySpan<byte> text = cells.Cell(row, InventoryColumn.Camera);
        id = 0;
        if (text.IsEmpty)
        {
            return true;
        }

        if (builder.Cameras.Count >= ushort.MaxValue - 1 && builder.Cameras.Find(text) < 0)
        {
            cells.Refuse(row, InventoryColumn.Camera, $"the inventory has more than {ushort.MaxValue - 1} different cameras");
            return false;
        }

        id = builder.CameraId(text);
        return true;
    }

    private static bool? YesNo(ReadOnlySpan<byte> text) =>
        Ascii.EqualsIgnoreCase(text, "yes"u8) ? true : Ascii.EqualsIgnoreCase(text, "no"u8) ? false : null;
}
