namespace PostPipeline.Timecodes.Inventories;

/// <summary>Rows by clip name without extension and without regard to case: a hash table of row numbers, about eight bytes a clip.</summary>
internal sealed class NameIndex
{
    private readonly ClipRows columns;
    private readonly int[] buckets;
    private readonly int[] next;

    public NameIndex(ClipRows columns, int rowCount)
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

    /// <summary>
    /// Touches the memory that a block of look-ups will need. Each look-up waits for memory several times in a row; done for
    /// a block in steps, the waits of different look-ups overlap.
    /// </summary>
    /// <param name="hashes">Hashes of the names.</param>
    /// <param name="rows">Room for as many rows.</param>
    /// <returns>Something that depends on all that was touched.</returns>
    public int Touch(ReadOnlySpan<uint> hashes, Span<int> rows)
    {
        int seen = 0;
        for (int i = 0; i < hashes.Length; i++)
        {
            rows[i] = buckets[hashes[i] & (uint)(buckets.Length - 1)];
        }

        for (int i = 0; i < hashes.Length; i++)
        {
            if (rows[i] >= 0)
            {
                seen |= next[rows[i]];
                rows[i] = columns.Rows[rows[i]].NameStart;
            }
        }

        for (int i = 0; i < hashes.Length; i++)
        {
            if (rows[i] >= 0)
            {
                seen |= columns.Names[rows[i]];
            }
        }

        return seen;
    }

    private int Seek(int row, ReadOnlySpan<byte> stem)
    {
        while (row >= 0 && !FoldedText.Equal(FoldedText.Stem(columns.Name(row)), stem))
        {
            row = next[row];
        }

        return row;
    }
}
