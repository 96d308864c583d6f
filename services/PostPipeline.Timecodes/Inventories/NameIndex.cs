namespace PostPipeline.Timecodes.Inventories;

/// <summary>Rows by clip name without extension and without regard to case: a hash table of row numbers, about eight bytes a clip.</summary>
internal sealed class NameIndex
{
    private readonly ClipColumns columns;
    private readonly int[] buckets;
    private readonly int[] next;

    public NameIndex(ClipColumns columns, int rowCount)
    {
        this.columns = columns;
        int size = 16;
        while (size < rowCount)
        {
            size *= 2;
        }

        buckets = new int[size];
        next = new int[rowCount];
        Array.Fill(buckets, -1);

        // From the last row to the first, so that every chain runs in order of rows.
        for (int row = rowCount - 1; row >= 0; row--)
        {
            ref int bucket = ref buckets[FoldedText.Hash(FoldedText.Stem(columns.Name(row))) & (uint)(size - 1)];
            next[row] = bucket;
            bucket = row;
        }
    }

    /// <summary>Bytes held.</summary>
    public long MemoryBytes => 4L * (buckets.Length + next.Length);

    /// <summary>The first row with a name, or −1.</summary>
    /// <param name="stem">A name without extension.</param>
    public int First(ReadOnlySpan<byte> stem) => Seek(buckets[FoldedText.Hash(stem) & (uint)(buckets.Length - 1)], stem);

    /// <summary>The next row with the same name, or −1.</summary>
    /// <param name="row">A row with that name.</param>
    /// <param name="stem">The name without extension.</param>
    public int Next(int row, ReadOnlySpan<byte> stem) => Seek(next[row], stem);

    private int Seek(int row, ReadOnlySpan<byte> stem)
    {
        while (row >= 0 && !FoldedText.Equal(FoldedText.Stem(columns.Name(row)), stem))
        {
            row = next[row];
        }

        return row;
    }
}
