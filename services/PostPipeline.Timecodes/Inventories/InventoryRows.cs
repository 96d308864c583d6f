using System.Text;

namespace PostPipeline.Timecodes.Inventories;

/// <summary>Takes the rows of an inventory, one at a time.</summary>
internal sealed class InventoryRows
{
    private const int AverageNameBytes = 20;

    private readonly InventoryReadOptions options;
    private readonly InventoryBuilder builder = new();
    private readonly InventoryProblems problems;
    private readonly InventoryCells cells;
    private readonly InventoryValues values;
    private readonly List<string> unmapped = [];
    private int rowCount;
    private bool headerIsGood;
    private TimecodeFormat? idFormat;
    private ushort idOfFormat;

    public InventoryRows(InventoryReadOptions options)
    {
        this.options = options;
        problems = new(options.MaximumProblems);
        cells = new(options.Mapping, problems);
        values = new(cells, builder);
    }

    public InventoryReading Finish() => new(builder.Build(), rowCount, [.. problems.Listed], problems.LeftOff, [.. unmapped]);

    /// <summary>Makes room for rows that are expected.</summary>
    public void Expect(int count) => builder.Columns.Reserve(count, count * AverageNameBytes);

    public void TakeHeader(ReadOnlySpan<byte> row, int atLine) => headerIsGood = cells.TakeHeader(row, atLine, unmapped);

    public void Take(ReadOnlySpan<byte> row, int atLine)
    {
        rowCount++;
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

        row = cells.Split(row, atLine, out bool fits);
        if (fits)
        {
            TakeCells(row);
        }
        else
        {
            Refuse(atLine, 1, "row", $"the row has more than {CellSplitter.Capacity} cells");
        }
    }

    public void Refuse(int atLine, int column, string field, string message) => problems.Add(atLine, column, field, message);

    private void TakeCells(ReadOnlySpan<byte> row)
    {
        ReadOnlySpan<byte> name = cells.Cell(row, InventoryColumn.Name);
        if (name.Length is 0 or > Clip.MaximumNameBytes)
        {
            cells.Refuse(row, InventoryColumn.Name, $"the name has {name.Length} bytes; allowed are 1 to {Clip.MaximumNameBytes}");
            return;
        }

        ReadOnlySpan<byte> start = cells.Cell(row, InventoryColumn.Start);
        if (!values.TryFormat(row, start, out TimecodeFormat? format)
            || !values.TryLabel(row, InventoryColumn.Start, start, format, out long startFrame)
            || !values.TryFrames(row, format, startFrame, out long frames)
            || !values.TryKind(row, out ClipKind kind)
            || !values.TryTrimmable(row, out Trimmability trimmable)
            || !values.TryDate(row, out int day)
            || !values.TryWhole(row, InventoryColumn.Bytes, 0, long.MaxValue, -1, out long bytes)
            || !values.TryWhole(row, InventoryColumn.Chunk, 1, 1_000_000, 0, out long chunk)
            || !values.TryWhole(row, InventoryColumn.Chunks, 1, 1_000_000, 0, out long chunks)
            || !values.TrySensorRate(row, out ushort sensorRate)
            || !values.TryRaster(row, out ushort raster)
            || !values.TryCamera(row, out ushort camera))
        {
            return;
        }

        if (builder.Formats.Count >= ValueTable<TimecodeFormat>.Maximum)
        {
            cells.Refuse(row, InventoryColumn.Rate, $"the inventory has more than {ValueTable<TimecodeFormat>.Maximum} different rates");
            return;
        }

        ReadOnlySpan<byte> reel = cells.Cell(row, InventoryColumn.Reel);
        ReadOnlySpan<byte> medium = cells.Cell(row, InventoryColumn.Medium);
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
            builder.ChunkRows.Add(new(added, Encoding.UTF8.GetString(cells.Cell(row, InventoryColumn.Take)), (int)chunk, (int)chunks));
        }
    }

    private ushort FormatId(TimecodeFormat format)
    {
        if (!ReferenceEquals(format, idFormat))
        {
            idFormat = format;
            idOfFormat = builder.Formats.Intern(format);
        }

        return idOfFormat;
    }
}
