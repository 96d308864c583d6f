using PostPipeline.Quantities;

namespace PostPipeline.Timecodes.Inventories;

/// <summary>
/// The rows of an inventory, column by column: about 50 bytes a clip beside its name, so that a million clips fit
/// in a corner of the memory and a search touches only the columns that it needs.
/// </summary>
internal sealed class ClipColumns
{
    private const int FirstCapacity = 64;

    public int[] NameStart = new int[FirstCapacity + 1];
    public int[] Reel = new int[FirstCapacity];
    public int[] Start = new int[FirstCapacity];
    public int[] Frames = new int[FirstCapacity];
    public long[] Bytes = new long[FirstCapacity];
    public int[] Medium = new int[FirstCapacity];
    public int[] Day = new int[FirstCapacity];
    public ushort[] Format = new ushort[FirstCapacity];
    public ushort[] SensorRate = new ushort[FirstCapacity];
    public ushort[] Raster = new ushort[FirstCapacity];
    public ushort[] Camera = new ushort[FirstCapacity];
    public byte[] Flags = new byte[FirstCapacity];
    public byte[] Names = new byte[FirstCapacity * 16];

    /// <summary>Rows held.</summary>
    public int Count { get; private set; }

    /// <summary>Bytes held by the columns.</summary>
    public long MemoryBytes => Names.LongLength + (4L * NameStart.Length) + ((4L * 5) + 8 + (2 * 4) + 1) * Reel.Length;

    public static byte FlagsOf(ClipKind kind, Trimmability trimmable) => (byte)((int)kind | ((int)trimmable << 2));

    public ClipKind Kind(int row) => (ClipKind)(Flags[row] & 3);

    public Trimmability Trimmable(int row) => (Trimmability)((Flags[row] >> 2) & 3);

    public ReadOnlySpan<byte> Name(int row) => Names.AsSpan(NameStart[row], NameStart[row + 1] - NameStart[row]);

    /// <summary>Makes room for one more row and stores its name; the caller fills the other columns.</summary>
    public int Append(ReadOnlySpan<byte> name)
    {
        int row = Count;
        if (row == Reel.Length)
        {
            Resize(row * 2);
        }

        int start = NameStart[row];
        int end = checked(start + name.Length);
        if (end > Names.Length)
        {
            Array.Resize(ref Names, (int)Math.Min(Array.MaxLength, Math.Max(end, Names.Length * 2L)));
        }

        name.CopyTo(Names.AsSpan(start));
        NameStart[row + 1] = end;
        Count = row + 1;
        return row;
    }

    /// <summary>Makes room for rows that are expected, so that columns need not grow step by step.</summary>
    public void Reserve(int rows, int nameBytes)
    {
        if (rows > Reel.Length)
        {
            Resize(rows);
        }

        if (nameBytes > Names.Length)
        {
            Array.Resize(ref Names, nameBytes);
        }
    }

    /// <summary>Gives back room that was not used, where it is worth copying.</summary>
    public void Trim()
    {
        if (Reel.Length - Count > Reel.Length / 8)
        {
            Resize(Math.Max(1, Count));
        }

        if (Names.Length - NameStart[Count] > Names.Length / 8)
        {
            Array.Resize(ref Names, Math.Max(1, NameStart[Count]));
        }
    }

    private void Resize(int capacity)
    {
        Array.Resize(ref NameStart, capacity + 1);
        Array.Resize(ref Reel, capacity);
        Array.Resize(ref Start, capacity);
        Array.Resize(ref Frames, capacity);
        Array.Resize(ref Bytes, capacity);
        Array.Resize(ref Medium, capacity);
        Array.Resize(ref Day, capacity);
        Array.Resize(ref Format, capacity);
        Array.Resize(ref SensorRate, capacity);
        Array.Resize(ref Raster, capacity);
        Array.Resize(ref Camera, capacity);
        Array.Resize(ref Flags, capacity);
    }
}
