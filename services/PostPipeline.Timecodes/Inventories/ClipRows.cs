namespace PostPipeline.Timecodes.Inventories;

/// <summary>
/// The rows of an inventory, 48 bytes a clip, and their names in one block of memory, so that a million clips fit in a
/// corner of it.
/// </summary>
internal sealed class ClipRows
{
    private const int FirstCapacity = 64;

    // One row more than there are clips: its name start is the end of the last name.
    public ClipRow[] Rows = new ClipRow[FirstCapacity + 1];
    public byte[] Names = new byte[FirstCapacity * 16];

    /// <summary>Rows held.</summary>
    public int Count { get; private set; }

    /// <summary>Bytes held.</summary>
    public long MemoryBytes => Names.LongLength + ((long)System.Runtime.CompilerServices.Unsafe.SizeOf<ClipRow>() * Rows.Length);

    public static byte FlagsOf(ClipKind kind, Trimmability trimmable) => (byte)((int)kind | ((int)trimmable << 2));

    public ClipKind Kind(int row) => (ClipKind)(Rows[row].Flags & 3);

    public Trimmability Trimmable(int row) => (Trimmability)((Rows[row].Flags >> 2) & 3);

    public ReadOnlySpan<byte> Name(int row)
    {
        int start = Rows[row].NameStart;
        return Names.AsSpan(start, Rows[row + 1].NameStart - start);
    }

    /// <summary>Makes room for one more row and stores its name; the caller fills the other fields.</summary>
    public int Append(ReadOnlySpan<byte> name)
    {
        int row = Count;
        if (row + 1 == Rows.Length)
        {
            Array.Resize(ref Rows, (row * 2) + 1);
        }

        int start = Rows[row].NameStart;
        int end = checked(start + name.Length);
        if (end > Names.Length)
        {
            Array.Resize(ref Names, (int)Math.Min(Array.MaxLength, Math.Max(end, Names.Length * 2L)));
        }

        name.CopyTo(Names.AsSpan(start));
        Rows[row + 1].NameStart = end;
        Count = row + 1;
        return row;
    }

    /// <summary>Makes room for rows that are expected, so that it need not grow step by step.</summary>
    public void Reserve(int rows, int nameBytes)
    {
        if (rows + 1 > Rows.Length)
        {
            Array.Resize(ref Rows, rows + 1);
        }

        if (nameBytes > Names.Length)
        {
            Array.Resize(ref Names, nameBytes);
        }
    }

    /// <summary>Gives back room that was not used, where it is worth copying.</summary>
    public void Trim()
    {
        if (Rows.Length - Count > (Rows.Length / 8) + 1)
        {
            Array.Resize(ref Rows, Count + 1);
        }

        int nameBytes = Rows[Count].NameStart;
        if (Names.Length - nameBytes > Names.Length / 8)
        {
            Array.Resize(ref Names, Math.Max(1, nameBytes));
        }
    }
}
