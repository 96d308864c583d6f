using PostPipeline.Quantities;

namespace PostPipeline.Flows;

/// <summary>
/// Bytes that come to or leave a store at an even pace over a stretch of time: a day's offload, a farm's output,
/// a purge. A stretch without length is a step.
/// </summary>
public readonly record struct OccupancyChange
{
    private OccupancyChange(long from, long until, long bytes) => (From, Until, Bytes) = (from, until, bytes);

    /// <summary>The first instant, on the caller's whole-number clock.</summary>
    public long From { get; }

    /// <summary>The instant at which the last byte has moved; not before <see cref="From"/>.</summary>
    public long Until { get; }

    /// <summary>Bytes written (positive) or purged (negative).</summary>
    public long Bytes { get; }

    /// <summary>Bytes written evenly between two instants.</summary>
    /// <param name="from">When the first byte arrives; within ±2⁶².</param>
    /// <param name="until">When all have arrived; not before <paramref name="from"/>.</param>
    /// <param name="bytes">0 to 2⁶³−1.</param>
    /// <exception cref="ArgumentOutOfRangeException">An argument lies outside its range.</exception>
    public static OccupancyChange Written(long from, long until, long bytes) =>
        new(Instant(from), Guard.InRange(until, from, OccupancyCurve.LastInstant), Guard.InRange(bytes, 0, long.MaxValue));

    /// <summary>Bytes purged evenly between two instants.</summary>
    /// <param name="from">When the purge starts; within ±2⁶².</param>
    /// <param name="until">When it is done; not before <paramref name="from"/>.</param>
    /// <param name="bytes">0 to 2⁶³−1.</param>
    /// <exception cref="ArgumentOutOfRangeException">An argument lies outside its range.</exception>
    public static OccupancyChange Purged(long from, long until, long bytes) =>
        new(Instant(from), Guard.InRange(until, from, OccupancyCurve.LastInstant), -Guard.InRange(bytes, 0, long.MaxValue));

    /// <summary>
    /// How many of the bytes have moved by an instant: ⌊|bytes|·(t−from)/(until−from)⌋ with the sign of
    /// <see cref="Bytes"/>, because only whole bytes move.
    /// </summary>
    /// <param name="instant">Any instant.</param>
    public long MovedBy(long instant)
    {
        if (instant >= Until)
        {
            return Bytes;
        }

        if (instant <= From)
        {
            return 0;
        }

        ulong size = (ulong)Math.Abs(Bytes);
        ulong elapsed = (ulong)(instant - From);
        ulong length = (ulong)(Until - From);
        ulong high = Math.BigMul(size, elapsed, out ulong low);
        long moved = (long)(high == 0 ? low / length : (ulong)(new UInt128(high, low) / length));
        return Bytes < 0 ? -moved : moved;
    }

    private static long Instant(long instant) => Guard.InRange(instant, OccupancyCurve.FirstInstant, OccupancyCurve.LastInstant);
}
