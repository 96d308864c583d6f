namespace PostPipeline.Farms.Simulations;

/// <summary>
/// The queue of coming events: a heap with four children a node, keyed (time, kind, sequence). Entries are moved, never
/// numbered again, so that simultaneous events keep their order however often the heap grows.
/// </summary>
/// <remarks>
/// Taking leaves a hole at the root, which the next event added usually fills: a task that ends mostly starts another, and
/// one walk down the heap then does for both.
/// </remarks>
internal sealed class EventQueue
{
    /// <summary>Bits of the sequence number; 2⁵⁶ events are out of reach.</summary>
    public const int SequenceBits = 56;

    private FarmEvent[] heap = new FarmEvent[32];
    private int count;
    private bool hole;
    private long sequence;

    /// <summary>The time of the next event; <see cref="long.MaxValue"/> when there is none.</summary>
    public long NextTime
    {
        get
        {
            if (!hole)
            {
                return count == 0 ? long.MaxValue : heap[0].Time;
            }

            FarmEvent[] entries = heap;
            long least = long.MaxValue;
            for (int i = 1, last = Math.Min(4, count - 1); i <= last; i++)
            {
                least = Math.Min(least, entries[i].Time);
            }

            return least;
        }
    }

    /// <summary>Forgets every event and starts the sequence again.</summary>
    public void Clear()
    {
        count = 0;
        hole = false;
        sequence = 0;
    }

    /// <summary>Adds an event and returns its order, which names it.</summary>
    /// <param name="time">When.</param>
    /// <param name="kind">What.</param>
    /// <param name="index">What it concerns.</param>
    public long Add(long time, EventKind kind, int index)
    {
        long order = ((long)kind << SequenceBits) | sequence++;
        FarmEvent entry = new(time, order, index);
        if (hole)
        {
            hole = false;
            Sink(entry);
            return order;
        }

        if (count == heap.Length)
        {
            Array.Resize(ref heap, count * 2);
        }

        FarmEvent[] entries = heap;
        int at = count++;
        while (at > 0)
        {
            int parent = (at - 1) >> 2;
            if (!entry.Before(entries[parent]))
            {
                break;
            }

            entries[at] = entries[parent];
            at = parent;
        }

        entries[at] = entry;
        return order;
    }

    /// <summary>Takes the next event. There must be one.</summary>
    public FarmEvent Take()
    {
        if (hole)
        {
            hole = false;
            FarmEvent last = heap[--count];
            Sink(last);
        }

        hole = true;
        FarmEvent first = heap[0];
        if (count == 1)
        {
            count = 0;
            hole = false;
        }

        return first;
    }

    private void Sink(in FarmEvent entry)
    {
        FarmEvent[] entries = heap;
        int size = count;
        int at = 0;
        while (true)
        {
            int child = (at << 2) + 1;
            if (child >= size)
            {
                break;
            }

            int least = child;
            int last = Math.Min(child + 4, size);
            for (int i = child + 1; i < last; i++)
            {
                if (entries[i].Before(entries[least]))
                {
                    least = i;
                }
            }

            if (!entries[least].Before(entry))
            {
                break;
            }

            entries[at] = entries[least];
            at = least;
        }

        entries[at] = entry;
    }
}
