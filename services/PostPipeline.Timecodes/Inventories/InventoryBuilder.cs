using System.Text;
using PostPipeline.Quantities;

namespace PostPipeline.Timecodes.Inventories;

/// <summary>Collects clips one by one and builds the inventory that they make.</summary>
public sealed class InventoryBuilder
{
    /// <summary>The most rows of an inventory.</summary>
    public const int MaximumClips = 1_000_000;

    private bool built;

    /// <summary>Rows so far.</summary>
    public int Count => Columns.Count;

    internal ClipRows Columns { get; } = new();

    internal TextTable Reels { get; } = new();

    internal TextTable Media { get; } = new();

    internal TextTable Cameras { get; } = new();

    internal ValueTable<TimecodeFormat> Formats { get; } = new();

    internal ValueTable<FrameRate> SensorRates { get; } = new();

    internal ValueTable<Raster> Rasters { get; } = new();

    internal List<ChunkRow> ChunkRows { get; } = [];

    /// <summary>Adds a clip.</summary>
    /// <param name="clip">The clip.</param>
    /// <exception cref="ArgumentOutOfRangeException">A field lies outside its range.</exception>
    public void Add(Clip clip)
    {
        byte[] name = Encoding.UTF8.GetBytes(clip.Name);
        Guard.InRange(name.Length, 1, Clip.MaximumNameBytes, "clip.Name.Length");
        Guard.InRange(clip.Frames, 1, Clip.MaximumFrames);
        Guard.InRange(clip.Format.Nominal, 1, Clip.MaximumNominalRate);
        Guard.InRange(clip.Start ?? 0, 0, clip.Format.FramesPerDay - 1);
        Guard.InRange(clip.Bytes ?? 0, 0, long.MaxValue);
        Guard.InRange(clip.Chunk, 0, 1_000_000);
        Guard.InRange(clip.Chunks, 0, 1_000_000);
        int row = AddRow(name);
        Columns.Rows[row].Reel = Reels.Intern(clip.Reel.Length > 0 ? Encoding.UTF8.GetBytes(clip.Reel) : FoldedText.Stem(name));
        Columns.Rows[row].Start = (int)(clip.Start ?? -1);
        Columns.Rows[row].Frames = (int)clip.Frames;
        Columns.Rows[row].Bytes = clip.Bytes ?? -1;
        Columns.Rows[row].Medium = clip.Medium.Length > 0 ? Media.Intern(Encoding.UTF8.GetBytes(clip.Medium)) : -1;
        Columns.Rows[row].Day = clip.Date?.DayNumber ?? -1;
        Columns.Rows[row].Format = Formats.Intern(clip.Format);
        Columns.Rows[row].SensorRate = clip.SensorRate is { } rate ? SensorRates.Intern(rate) : (ushort)0;
        Columns.Rows[row].Raster = clip.Raster is { } raster ? Rasters.Intern(raster) : (ushort)0;
        Columns.Rows[row].Camera = CameraId(Encoding.UTF8.GetBytes(clip.Camera));
        Columns.Rows[row].Flags = ClipRows.FlagsOf(clip.Kind, clip.Trimmable);
        if (clip.Chunk > 0)
        {
            ChunkRows.Add(new(row, clip.Take, clip.Chunk, clip.Chunks));
        }
    }

    /// <summary>Builds the inventory. The builder cannot be used afterwards.</summary>
    public Inventory Build()
    {
        if (built)
        {
            throw new InvalidOperationException("An inventory can be built once from its builder.");
        }

        built = true;
        int rows = Columns.Count;
        ChunkAssembly takes = ChunkAssembly.Of(this);
        Columns.Trim();
        return new(this, rows, takes);
    }

    internal int AddRow(ReadOnlySpan<byte> name)
    {
        if (built || Columns.Count >= MaximumClips)
        {
            throw new InvalidOperationException($"An inventory has at most {MaximumClips} rows.");
        }

        return Columns.Append(name);
    }

    internal ushort CameraId(ReadOnlySpan<byte> camera)
    {
        if (camera.IsEmpty)
        {
            return 0;
        }

        int id = Cameras.Intern(camera);
        return id < ushort.MaxValue
            ? (ushort)(id + 1)
            : throw new ArgumentOutOfRangeException(nameof(camera), id + 1, $"An inventory has more than {ushort.MaxValue} different cameras.");
    }
}
