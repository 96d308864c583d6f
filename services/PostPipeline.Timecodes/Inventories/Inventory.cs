using System.Collections.Immutable;
using System.Text;
using PostPipeline.Quantities;

namespace PostPipeline.Timecodes.Inventories;

/// <summary>
/// The clips that are there: originals, proxies, mezzanine files. Rows 0 to <see cref="Count"/> − 1 are the files in
/// the order given; for a take of several files a further row stands for the take as a whole.
/// </summary>
public sealed class Inventory
{
    private readonly InventoryBuilder source;
    private readonly ChunkAssembly assembly;

    internal Inventory(InventoryBuilder source, int count, ChunkAssembly assembly)
    {
        this.source = source;
        this.assembly = assembly;
        Count = count;
    }

    /// <summary>An inventory without clips.</summary>
    public static Inventory Empty => new InventoryBuilder().Build();

    /// <summary>Files.</summary>
    public int Count { get; }

    /// <summary>Takes of several files.</summary>
    public ImmutableArray<ChunkedTake> Takes => assembly.Takes;

    /// <summary>Bytes that rows, names and shared texts occupy in memory.</summary>
    public long MemoryBytes => Columns.MemoryBytes + source.Reels.MemoryBytes + source.Media.MemoryBytes + source.Cameras.MemoryBytes;

    internal ClipRows Columns => source.Columns;

    internal TextTable Reels => source.Reels;

    internal TextTable Media => source.Media;

    internal TextTable Cameras => source.Cameras;

    internal ValueTable<TimecodeFormat> Formats => source.Formats;

    /// <summary>Rows, those that stand for whole takes included.</summary>
    internal int RowCount => Columns.Count;

    /// <summary>A row as an object.</summary>
    /// <param name="row">0 up to <see cref="Count"/> − 1, or the row of a take.</param>
    public Clip this[int row]
    {
        get
        {
            Guard.InRange(row, 0, RowCount - 1);
            ClipRows c = Columns;
            ChunkedTake? take = assembly.Find(row);
            TakeChunk chunk = take is null || take.Row == row ? default : take.Chunks.FirstOrDefault(k => k.Row == row);
            return new()
            {
                Name = Encoding.UTF8.GetString(c.Name(row)),
                Reel = source.Reels.Text(c.Rows[row].Reel),
                Format = source.Formats[c.Rows[row].Format],
                Start = c.Rows[row].Start < 0 ? null : c.Rows[row].Start,
                Frames = c.Rows[row].Frames,
                Kind = c.Kind(row),
                Camera = c.Rows[row].Camera == 0 ? string.Empty : source.Cameras.Text(c.Rows[row].Camera - 1),
                Date = c.Rows[row].Day < 0 ? null : DateOnly.FromDayNumber(c.Rows[row].Day),
                Take = chunk.Number > 0 ? NameOf(take!.Row) : string.Empty,
                Chunk = chunk.Number,
                Chunks = take?.ExpectedChunks ?? 0,
                Bytes = c.Rows[row].Bytes < 0 ? null : c.Rows[row].Bytes,
                Medium = c.Rows[row].Medium < 0 ? string.Empty : source.Media.Text(c.Rows[row].Medium),
                Trimmable = c.Trimmable(row),
                SensorRate = c.Rows[row].SensorRate == 0 ? null : source.SensorRates[c.Rows[row].SensorRate],
                Raster = c.Rows[row].Raster == 0 ? null : source.Rasters[c.Rows[row].Raster],
            };
        }
    }

    /// <summary>The take that a row is, or is a file of; null for a whole clip.</summary>
    /// <param name="row">A row.</param>
    public ChunkedTake? TakeOf(int row) => assembly.Find(row);

    /// <summary>The name of a row.</summary>
    /// <param name="row">A row.</param>
    public string NameOf(int row) => Encoding.UTF8.GetString(Columns.Name(row));

    /// <summary>The sensor rate of a row that states one.</summary>
    internal FrameRate SensorRateOf(int row) => source.SensorRates[Columns.Rows[row].SensorRate];

    /// <summary>Whether a row is matched by itself: it is not a file of a larger take.</summary>
    internal bool StandsAlone(int row) => assembly.Find(row) is not { } take || take.Row == row;
}
