using PostPipeline.Quantities;

namespace PostPipeline.Flows;

/// <summary>
/// Bytes in a store over time: exact, piecewise linear, made of writes and purges. The peak of such a curve lies
/// on one of its corners, so it is found exactly and not on a grid of days.
/// </summary>
/// <remarks>
/// The clock is the caller's whole numbers (seconds, minutes); bytes are whole. At each corner every change has
/// moved a whole number of bytes; between corners the curve is the straight line. Changes at the same instant
/// happen together: a purge frees room for a write of the same instant.
/// </remarks>
public sealed class OccupancyCurve
{
    /// <summary>The first instant accepted, −2⁶².</summary>
    public const long FirstInstant = -(1L << 62);

    /// <summary>The last instant accepted, 2⁶².</summary>
    public const long LastInstant = 1L << 62;

    private readonly long[] instants;

    // The curve jumps at a corner where a change has no length: its value just before, and from the corner on.
    private readonly long[] before;
    private readonly long[] after;

    private OccupancyCurve(long[] instants, long[] before, long[] after, Int128 written, Int128 purged)
    {
        this.instants = instants;
        this.before = before;
        this.after = after;
        Written = written;
        Purged = purged;
        (PeakInstant, PeakBytes) = FindPeak();
    }

    /// <summary>Nothing, ever.</summary>
    public static OccupancyCurve Empty { get; } = new([], [], [], 0, 0);

    /// <summary>How many corners the curve has.</summary>
    public int Count => instants.Length;

    /// <summary>All bytes ever written.</summary>
    public Int128 Written { get; }

    /// <summary>All bytes ever purged, as a positive number.</summary>
    public Int128 Purged { get; }

    /// <summary>The most bytes at once.</summary>
    public long PeakBytes { get; }

    /// <summary>The first instant at which the most bytes are there; 0 for an empty curve.</summary>
    public long PeakInstant { get; }

    /// <summary>What is left after the last change: written less purged.</summary>
    public long FinalBytes => Count == 0 ? 0 : after[^1];

    /// <summary>The corners in order of time: the value just before the instant, and from it on.</summary>
    public IEnumerable<(long Instant, long Before, long After)> Corners
    {
        get
        {
            for (int i = 0; i < instants.Length; i++)
            {
                yield return (instants[i], before[i], after[i]);
            }
        }
    }

    /// <summary>Builds the curve of some changes, in any order.</summary>
    /// <param name="changes">Writes and purges.</param>
    /// <exception cref="ArgumentException">At some instant more has been purged than written.</exception>
    /// <exception cref="OverflowException">At some instant 2⁶³ bytes or more would be there.</exception>
    public static OccupancyCurve From(params ReadOnlySpan<OccupancyChange> changes)
    {
        if (changes.Length == 0)
        {
            return Empty;
        }

        long[] instants = CornersOf(changes);
        long[] before = new long[instants.Length];
        long[] after = new long[instants.Length];
        OccupancyChange[] byStart = changes.ToArray();
        Array.Sort(byStart, static (a, b) => a.From.CompareTo(b.From));

        OccupancyChange[] moving = new OccupancyChange[byStart.Length];
        int movingCount = 0;
        int next = 0;
        Int128 settled = 0;
        Int128 written = 0;
        Int128 purged = 0;
        for (int i = 0; i < instants.Length; i++)
        {
            long t = instants[i];
            Int128 value = settled;
            int kept = 0;
            for (int m = 0; m < movingCount; m++)
            {
                OccupancyChange change = moving[m];
                value += change.MovedBy(t);
                if (change.Until > t)
                {
                    moving[kept++] = change;
                }
                else
                {
                    settled += change.Bytes;
                }
            }

            movingCount = kept;
            before[i] = Whole(value, t);
            for (; next < byStart.Length && byStart[next].From == t; next++)
            {
                OccupancyChange change = byStart[next];
                written += Math.Max(0, change.Bytes);
                purged -= Math.Min(0, change.Bytes);
                if (change.Until > t)
                {
                    moving[movingCount++] = change;
                }
                else
                {
                    settled += change.Bytes;
                    value += change.Bytes;
                }
            }

            after[i] = Whole(value, t);
        }

        return new(instants, before, after, written, purged);
    }

    /// <summary>Bytes there at an instant; between corners the straight line, whole bytes only.</summary>
    /// <param name="instant">Any instant.</param>
    public long At(long instant)
    {
        int i = Array.BinarySearch(instants, instant);
        if (i >= 0)
        {
            return after[i];
        }

        int right = ~i;
        return right == 0 ? 0 : right == instants.Length ? after[^1] : Between(right - 1, instant);
    }

    /// <summary>The most bytes at once in [<paramref name="from"/>, <paramref name="until"/>).</summary>
    /// <param name="from">The first instant.</param>
    /// <param name="until">The end, after <paramref name="from"/>; what starts there does not count.</param>
    public long PeakBetween(long from, long until)
    {
        Guard.InRange(until, from + 1, long.MaxValue);
        long peak = Math.Max(At(from), JustBefore(until));
        int i = Array.BinarySearch(instants, from + 1);
        for (i = i >= 0 ? i : ~i; i < instants.Length && instants[i] < until; i++)
        {
            peak = Math.Max(peak, Math.Max(before[i], after[i]));
        }

        return peak;
    }

    /// <summary>The peak of each of some days (or weeks) of equal length, for bands over many draws.</summary>
    /// <param name="start">The first instant of the first day.</param>
    /// <param name="dayLength">Length of a day on this clock, above zero.</param>
    /// <param name="peaks">Receives one peak a day; its length says how many days.</param>
    public void DailyPeaks(long start, long dayLength, Span<long> peaks)
    {
        Guard.InRange(dayLength, 1, LastInstant);
        for (int day = 0; day < peaks.Length; day++)
        {
            long from = checked(start + (day * dayLength));
            peaks[day] = PeakBetween(from, checked(from + dayLength));
        }
    }

    /// <summary>
    /// Twice the area under the curve over [<paramref name="from"/>, <paramref name="until"/>), in bytes times
    /// clock units: what a price per TB and month is paid on. Twice, because half an area of whole numbers need
    /// not be whole.
    /// </summary>
    /// <param name="from">The first instant.</param>
    /// <param name="until">The end, not before <paramref name="from"/>.</param>
    public Int128 TwiceArea(long from, long until)
    {
        Guard.InRange(until, from, long.MaxValue);
        Int128 area = 0;
        long left = from;
        long leftValue = At(from);
        int i = Array.BinarySearch(instants, from);
        for (i = i >= 0 ? i + 1 : ~i; i < instants.Length && instants[i] < until; i++)
        {
            area += ((Int128)leftValue + before[i]) * (instants[i] - left);
            left = instants[i];
            leftValue = after[i];
        }

        return area + (((Int128)leftValue + JustBefore(until)) * (until - left));
    }

    /// <summary>The first instant at or after which at least so many bytes are there, or null where it never happens.</summary>
    /// <param name="bytes">Above zero; an alarm level, or the size of a tier.</param>
    public long? FirstReaching(long bytes)
    {
        Guard.InRange(bytes, 1, long.MaxValue);
        for (int i = 0; i < instants.Length; i++)
        {
            if (i > 0 && before[i] >= bytes && after[i - 1] < bytes)
            {
                Int128 rise = (Int128)before[i] - after[i - 1];
                Int128 steps = (((Int128)bytes - after[i - 1]) * (instants[i] - instants[i - 1])) + rise - 1;
                return instants[i - 1] + (long)(steps / rise);
            }

            if (after[i] >= bytes)
            {
                return instants[i];
            }
        }

        return null;
    }

    private static long[] CornersOf(ReadOnlySpan<OccupancyChange> changes)
    {
        long[] all = new long[changes.Length * 2];
        for (int i = 0; i < changes.Length; i++)
        {
            all[2 * i] = changes[i].From;
            all[(2 * i) + 1] = changes[i].Until;
        }

        Array.Sort(all);
        int count = 1;
        for (int i = 1; i < all.Length; i++)
        {
            if (all[i] != all[count - 1])
            {
                all[count++] = all[i];
            }
        }

        Array.Resize(ref all, count);
        return all;
    }

    private static long Whole(Int128 value, long instant) =>
        value < 0
            ? throw new ArgumentException($"At {instant} there would be {value} bytes: more has been purged than written.", nameof(value))
            : checked((long)value);

    private long JustBefore(long instant)
    {
        int i = Array.BinarySearch(instants, instant);
        return i >= 0 ? before[i] : At(instant);
    }

    private long Between(int left, long instant)
    {
        Int128 rise = (Int128)before[left + 1] - after[left];
        Int128 part = rise * (instant - instants[left]) / (instants[left + 1] - instants[left]);
        return (long)(after[left] + part);
    }

    private (long Instant, long Bytes) FindPeak()
    {
        (long Instant, long Bytes) peak = Count == 0 ? (0, 0) : (instants[0], before[0]);
        for (int i = 0; i < instants.Length; i++)
        {
            long value = Math.Max(before[i], after[i]);
            if (value > peak.Bytes)
            {
                peak = (instants[i], value);
            }
        }

        return peak;
    }
}
