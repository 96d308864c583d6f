namespace PostPipeline.Farms.Simulations;

/// <summary>
/// Processor sharing of one storage pool: each of n transfers moves at min(link, bandwidth ÷ n). Because all move at the
/// same rate, a transfer that starts when every transfer since the beginning would have moved V bytes ends when that
/// virtual amount reaches V + its own bytes; the rate changes, the order of the ends does not, so an event costs O(log n).
/// </summary>
/// <remarks>Virtual time for processor sharing: Kleinrock, Queueing Systems, volume 2 (1976), chapter 4.</remarks>
internal sealed class SharedStorage(double bytesPerSecond, double linkBytesPerSecond, int nodes)
{
    // A transfer is over when less than this many bytes are left: the clock steps by a microsecond, in which storage of
    // 1 TB/s moves a million bytes.
    private const double Rounding = 1e-3;

    // The ticket of each node's running transfer, 0 for none. A heap entry whose ticket is not its node's is passed over.
    private readonly long[] ticketOfNode = new long[nodes];
    private readonly double[] tagOfNode = new double[nodes];
    private (double Tag, long Ticket, int Node)[] heap = new (double, long, int)[8];
    private int count;
    private int active;
    private double virtualBytes;
    private long updated;
    private long tickets;

    /// <summary>When the next transfer ends if nothing else changes; <see cref="long.MaxValue"/> when none is running.</summary>
    public long NextTime { get; private set; } = long.MaxValue;

    /// <summary>Starts again with nothing running.</summary>
    public void Clear()
    {
        Array.Clear(ticketOfNode);
        count = 0;
        active = 0;
        virtualBytes = 0;
        updated = 0;
        tickets = 0;
        NextTime = long.MaxValue;
    }

    /// <summary>Starts a transfer.</summary>
    /// <param name="now">The clock.</param>
    /// <param name="bytes">Bytes to move, above 0.</param>
    /// <param name="node">The node that moves them; it moves nothing else.</param>
    public void Start(long now, double bytes, int node)
    {
        Update(now);
        ticketOfNode[node] = ++tickets;
        tagOfNode[node] = virtualBytes + bytes;
        Push(tagOfNode[node], tickets, node);
        active++;
        Schedule();
    }

    /// <summary>Ends a node's transfer before its time and returns the bytes that were left.</summary>
    /// <param name="now">The clock.</param>
    /// <param name="node">The node.</param>
    public double Abandon(long now, int node)
    {
        Update(now);
        double left = Math.Max(0, tagOfNode[node] - virtualBytes);
        ticketOfNode[node] = 0;
        active--;
        Schedule();
        return left;
    }

    /// <summary>Takes a transfer that is over at this instant, if there is one.</summary>
    /// <param name="now">The clock.</param>
    /// <param name="node">The node whose transfer is over.</param>
    public bool TryFinish(long now, out int node)
    {
        Update(now);
        DropStale();
        if (count > 0 && heap[0].Tag - virtualBytes <= Rounding)
        {
            node = heap[0].Node;
            ticketOfNode[node] = 0;
            Pop();
            active--;
            return true;
        }

        Schedule();
        node = -1;
        return false;
    }

    private void DropStale()
    {
        while (count > 0 && ticketOfNode[heap[0].Node] != heap[0].Ticket)
        {
            Pop();
        }
    }

    private double BytesPerMicrosecond => Math.Min(linkBytesPerSecond, bytesPerSecond / active) / FarmClock.MicrosecondsPerSecond;

    private void Update(long now)
    {
        if (active == 0)
        {
            // Nothing is measured against V now, so it can start from nought again and stays precise.
            virtualBytes = 0;
            count = 0;
        }
        else if (now > updated)
        {
            virtualBytes += (now - updated) * BytesPerMicrosecond;
        }

        updated = now;
    }

    private void Schedule()
    {
        DropStale();
        if (active == 0)
        {
            NextTime = long.MaxValue;
            return;
        }

        double left = Math.Max(0, heap[0].Tag - virtualBytes - Rounding);
        NextTime = updated + (long)Math.Min(Math.Ceiling(left / BytesPerMicrosecond), FarmClock.Longest);
    }

    private void Push(double tag, long ticket, int node)
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
            if (!Before(tag, ticket, entries[parent]))
            {
                break;
            }

            entries[at] = entries[parent];
            at = parent;
        }

        entries[at] = (tag, ticket, node);
    }

    private void Pop()
    {
        var entries = heap;
        var (tag, ticket, node) = entries[--count];
        int size = count;
        int at = 0;
        while (true)
        {
            int child = (at << 1) + 1;
            if (child >= size)
            {
                break;
            }

            if (child + 1 < size && Before(entries[child + 1].Tag, entries[child + 1].Ticket, entries[child]))
            {
                child++;
            }

            if (Before(tag, ticket, entries[child]))
            {
                break;
            }

            entries[at] = entries[child];
            at = child;
        }

        entries[at] = (tag, ticket, node);
    }

    private static bool Before(double tag, long ticket, in (double Tag, long Ticket, int Node) other) =>
        tag < other.Tag || (tag == other.Tag && ticket < other.Ticket);
}
