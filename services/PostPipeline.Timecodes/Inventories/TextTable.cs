using System.Text;

namespace PostPipeline.Timecodes.Inventories;

/// <summary>
/// Distinct texts numbered from 0, held once as UTF-8 in one block of memory. A million clips share a few thousand
/// reels and a dozen cameras; a number of four bytes stands for each.
/// </summary>
internal sealed class TextTable
{
    private byte[] arena = new byte[256];
    private int[] starts = new int[16];
    private int[] buckets = NewBuckets(16);
    private int[] next = new int[16];
    private int last = -1;

    /// <summary>How many distinct texts there are.</summary>
    public int Count { get; private set; }

    /// <summary>Bytes held.</summary>
    public long MemoryBytes => arena.Length + (4L * (starts.Length + buckets.Length + next.Length));

    /// <summary>The text of a number.</summary>
    public ReadOnlySpan<byte> this[int id] => arena.AsSpan(starts[id], starts[id + 1] - starts[id]);

    /// <summary>The text of a number as a string.</summary>
    public string Text(int id) => Encoding.UTF8.GetString(this[id]);

    /// <summary>The number of a text that differs at most in case; −1 where there is none.</summary>
    public int Find(ReadOnlySpan<byte> text)
    {
        for (int id = buckets[FoldedText.Hash(text) & (uint)(buckets.Length - 1)]; id >= 0; id = next[id])
        {
            if (FoldedText.Equal(this[id], text))
            {
                return id;
            }
        }

        return -1;
    }

    /// <summary>The number of a text, new where it was not there.</summary>
    public int Intern(ReadOnlySpan<byte> text)
    {
        // Rows that follow each other mostly repeat the text before.
        if (last >= 0 && this[last].SequenceEqual(text))
        {
            return last;
        }

        last = Find(text);
        return last >= 0 ? last : last = Add(text);
    }

    private static int[] NewBuckets(int count)
    {
        int[] fresh = new int[count];
        Array.Fill(fresh, -1);
        return fresh;
    }

    private int Add(ReadOnlySpan<byte> text)
    {
        if (Count + 2 > starts.Length)
        {
            Array.Resize(ref starts, starts.Length * 2);
            Array.Resize(ref next, starts.Length);
            buckets = NewBuckets(starts.Length);
            for (int id = 0; id < Count; id++)
            {
                Link(id);
            }
        }

        int start = starts[Count];
        int end = checked(start + text.Length);
        if (end > arena.Length)
        {
            Array.Resize(ref arena, (int)Math.Min(Array.MaxLength, Math.Max(end, arena.Length * 2L)));
        }

        text.CopyTo(arena.AsSpan(start));
        starts[Count + 1] = end;
        Link(Count);
        return Count++;
    }

    private void Link(int id)
    {
        ReadOnlySpan<byte> text = arena.AsSpan(starts[id], starts[id + 1] - starts[id]);
        ref int bucket = ref buckets[FoldedText.Hash(text) & (uint)(buckets.Length - 1)];
        next[id] = bucket;
        bucket = id;
    }
}
