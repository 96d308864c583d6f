namespace PostPipeline.Farms.Simulations;

/// <summary>A small heap of whole numbers ordered by a pair of keys: waiting jobs, idle nodes.</summary>
internal sealed class PairQueue
{
    private (long Key, long Tie, int Value)[] heap = new (long, long, int)[8];
    private int count;

    /// <summary>How many are in it.</summary>
    public int Count => count;

    /// <summary>The first, which must be there.</summary>
    public ref readonly (long Key, long Tie, int Value) First => ref heap[0];

    /// <summary>Forgets everything.</summary>
    public void Clear() => count = 0;

    /// <summary>Adds a value.</summary>
    /// <param name="key">First key, least first.</param>
    /// <param name="tie">Second key, least first.</param>
    /// <param name="value">The value.</param>
    public void Add(long key, long tie, int value)
    {
        if (count == heap.Length)
        {
            Array.Resize(ref heap, count * 2);
        }

        var entries = heap;
        int at = count++;
        while (at > 0)
        {
            int parent = (at - 1) >> 1;
            if (!Before(key, tie, entries[parent]))
            {
                break;
            }

            entries[at] = entries[parent];
            at = parent;
        }

        entries[at] = (key, tie, value);
    }

    /// <summary>Removes the first, which must be there.</summary>
    public void RemoveFirst()
    {
        var entries = heap;
        var (key, tie, value) = entries[--count];
        int size = count;
        int at = 0;
        while (true)
        {
            int child = (at << 1) + 1;
            if (child >= size)
            {
                break;
            }

            if (child + 1 < size && Before(entries[child + 1].Key, entries[child + 1].Tie, entries[child]))
            {
                child++;
            }

            if (Before(key, tie, entries[child]))
            {
                break;
            }

            entries[at] = entries[child];
            at = child;
        }

        entries[at] = (key, tie, value);
    }

    private static bool Before(long key, long tie, in (long Key, long Tie, int Value) other) =>
        key < other.Key || (key == other.Key && tie < other.Tie);
}
