namespace PostPipeline.Farms.Simulations;

/// <summary>An entry of the event queue, ordered by (time, order).</summary>
internal readonly struct FarmEvent(long time, long order, int index)
{
    /// <summary>When, microseconds.</summary>
    public readonly long Time = time;

    /// <summary>Kind in the high bits, a sequence number that never repeats in the low ones: first in, first out among equals.</summary>
    public readonly long Order = order;

    /// <summary>The node, calendar, job or entry that it concerns.</summary>
    public readonly int Index = index;

    /// <summary>The kind.</summary>
    public EventKind Kind => (EventKind)(Order >> EventQueue.SequenceBits);

    /// <summary>Whether this comes before the other.</summary>
    public bool Before(in FarmEvent other) => Time < other.Time || (Time == other.Time && Order < other.Order);
}
