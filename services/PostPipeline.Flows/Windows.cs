using PostPipeline.Quantities;

namespace PostPipeline.Flows;

/// <summary>
/// The times at which something is open: sorted, disjoint, half-open intervals [from, until) on a whole-number
/// clock. Working hours, night windows and maintenance are all this one thing, and walking work through it is
/// exact because the clock is whole numbers.
/// </summary>
/// <remarks>The unit of the clock is the caller's (the farm uses microseconds, calendars use seconds).</remarks>
public sealed class Windows
{
    // How many intervals are looked at in order before the search halves them all.
    private const int NearSteps = 6;

    private readonly long[] from;
    private readonly long[] until;

    // Open time before interval i, so that the open time between any two instants is two binary searches.
    private readonly long[] openBefore;

    // The span of the starts is cut into equal cells; each knows the interval that is the last to start at or before the
    // cell's first instant, so that a search looks at the few intervals of one cell.
    private readonly int[] guide;
    private readonly int cellBits;

    private Windows(long[] from, long[] until)
    {
        this.from = from;
        this.until = until;
        (guide, cellBits) = Guide(from);
        openBefore = new long[from.Length + 1];
        for (int i = 0; i < from.Length; i++)
        {
            openBefore[i + 1] = openBefore[i] + (until[i] - from[i]);
        }
    }

    /// <summary>Never open.</summary>
    public static Windows Never { get; } = new([], []);

    /// <summary>Open from the smallest to the largest instant that is safe to add to (about ±4.6·10¹⁸).</summary>
    public static Windows Always { get; } = new([long.MinValue / 2], [long.MaxValue / 2]);

    /// <summary>How many intervals there are.</summary>
    public int Count => from.Length;

    /// <summary>The intervals, in order of time.</summary>
    public IEnumerable<(long From, long Until)> Intervals => from.Zip(until);

    /// <summary>All open time.</summary>
    public long TotalOpen => openBefore[^1];

    /// <summary>Builds windows from intervals in any order; overlapping and touching ones are joined, empty ones dropped.</summary>
    /// <param name="intervals">Pairs with from ≤ until.</param>
    /// <exception cref="ArgumentException">An interval ends before it starts.</exception>
    public static Windows From(IEnumerable<(long From, long Until)> intervals)
    {
        List<(long From, long Until)> joined = [];
        foreach ((long start, long end) in intervals.OrderBy(i => i.From))
        {
            if (end < start)
            {
                throw new ArgumentException($"A window ends at {end}, before it starts at {start}.", nameof(intervals));
            }

            if (end == start)
            {
                continue;
            }

            if (joined.Count > 0 && start <= joined[^1].Until)
            {
                joined[^1] = (joined[^1].From, Math.Max(joined[^1].Until, end));
            }
            else
            {
                joined.Add((start, end));
            }
        }

        return new([.. joined.Select(i => i.From)], [.. joined.Select(i => i.Until)]);
    }

    /// <summary>Whether the instant lies in a window.</summary>
    /// <param name="instant">Any instant.</param>
    public bool IsOpen(long instant)
    {
        int i = IndexAtOrBefore(instant);
        return i >= 0 && instant < until[i];
    }

    /// <summary>The first open instant at or after the given one, or null where none is left.</summary>
    /// <param name="instant">Any instant.</param>
    public long? NextOpen(long instant)
    {
        int i = IndexAtOrBefore(instant);
        if (i >= 0 && instant < until[i])
        {
            return instant;
        }

        return i + 1 < from.Length ? from[i + 1] : null;
    }

    /// <summary>When the window that holds the instant closes, or null where the instant is not open.</summary>
    /// <param name="instant">Any instant.</param>
    public long? ClosesAfter(long instant)
    {
        int i = IndexAtOrBefore(instant);
        return i >= 0 && instant < until[i] ? until[i] : null;
    }

    /// <summary>Open time inside [<paramref name="start"/>, <paramref name="end"/>).</summary>
    /// <param name="start">Start, not after <paramref name="end"/>.</param>
    /// <param name="end">End, exclusive.</param>
    public long OpenBetween(long start, long end)
    {
        Guard.InRange(end, start, long.MaxValue);
        return OpenUpTo(end) - OpenUpTo(start);
    }

    /// <summary>When work that needs so much open time, started at an instant, is done; null where the windows end first.</summary>
    /// <param name="start">The instant at which the work may begin.</param>
    /// <param name="work">Open time needed, 0 or more. Work of 0 is done at <paramref name="start"/>, open or not.</param>
    public long? Advance(long start, long work)
    {
        int near = -1;
        return Advance(start, work, ref near);
    }

    /// <summary>The same for a walk of many pieces of work in order of time: it looks first where the last piece ended.</summary>
    /// <param name="start">The instant at which the work may begin.</param>
    /// <param name="work">Open time needed, 0 or more. Work of 0 is done at <paramref name="start"/>, open or not.</param>
    /// <param name="near">Where to look first; begin with −1. It makes the walk faster and never changes its answer.</param>
    public long? Advance(long start, long work, ref int near)
    {
        Guard.InRange(work, 0, long.MaxValue);
        if (work == 0)
        {
            return start;
        }

        int i = near = IndexAtOrBefore(start, near);
        long open = i < 0 ? 0 : openBefore[i] + Math.Min(start, until[i]) - from[i];
        long target = checked(open + work);
        if (target > openBefore[^1])
        {
            return null;
        }

        // The interval that holds the last of the work: most often this one or one of the next.
        int interval = Math.Max(i, 0);
        for (int step = 0; step < NearSteps; step++)
        {
            if (target <= openBefore[interval + 1])
            {
                near = interval;
                return from[interval] + (target - openBefore[interval]);
            }

            interval++;
        }

        int found = Array.BinarySearch(openBefore, target);
        near = interval = (found >= 0 ? found : ~found) - 1;
        return from[interval] + (target - openBefore[interval]);
    }

    /// <summary>The times open in both.</summary>
    /// <param name="other">Other windows on the same clock.</param>
    public Windows Intersect(Windows other)
    {
        List<(long From, long Until)> common = [];
        for (int i = 0, j = 0; i < from.Length && j < other.from.Length;)
        {
            long start = Math.Max(from[i], other.from[j]);
            long end = Math.Min(until[i], other.until[j]);
            if (start < end)
            {
                common.Add((start, end));
            }

            if (until[i] < other.until[j])
            {
                i++;
            }
            else
            {
                j++;
            }
        }

        return From(common);
    }

    /// <summary>The times open here and not in the other: a calendar less its days off, a farm less its maintenance.</summary>
    /// <param name="other">Other windows on the same clock.</param>
    public Windows Except(Windows other)
    {
        List<(long From, long Until)> closed = [];
        long last = Always.from[0];
        foreach ((long start, long end) in other.Intervals)
        {
            closed.Add((last, Math.Max(last, start)));
            last = end;
        }

        closed.Add((last, Math.Max(last, Always.until[0])));
        return Intersect(From(closed));
    }

    private long OpenUpTo(long instant)
    {
        int i = IndexAtOrBefore(instant);
        return i < 0 ? 0 : openBefore[i] + Math.Min(instant, until[i]) - from[i];
    }

    private int IndexAtOrBefore(long instant, int near)
    {
        if (near >= 0 && near < from.Length && from[near] <= instant)
        {
            for (int i = near; i < Math.Min(near + NearSteps, from.Length); i++)
            {
                if (i + 1 == from.Length || instant < from[i + 1])
                {
                    return i;
                }
            }
        }

        return IndexAtOrBefore(instant);
    }

    // The last interval that starts at or before the instant; −1 where none does.
    private int IndexAtOrBefore(long instant)
    {
        if (from.Length == 0 || instant < from[0])
        {
            return -1;
        }

        // Differences of any two instants fit into 64 bits without a sign.
        ulong cell = unchecked((ulong)instant - (ulong)from[0]) >> cellBits;
        int low = cell < (ulong)guide.Length ? guide[(int)cell] : from.Length - 1;
        int high = cell + 1 < (ulong)guide.Length ? guide[(int)cell + 1] : from.Length - 1;
        while (low < high)
        {
            int middle = (low + high + 1) / 2;
            (low, high) = from[middle] <= instant ? (middle, high) : (low, middle - 1);
        }

        return low;
    }

    private static (int[] Guide, int CellBits) Guide(long[] from)
    {
        if (from.Length == 0)
        {
            return ([], 0);
        }

        ulong span = unchecked((ulong)from[^1] - (ulong)from[0]);
        int bits = 0;
        while (bits < 63 && (span >> bits) >= 2 * (ulong)from.Length)
        {
            bits++;
        }

        int[] guide = new int[(int)(span >> bits) + 1];
        for (int cell = 0, interval = 0; cell < guide.Length; cell++)
        {
            while (interval + 1 < from.Length && unchecked((ulong)from[interval + 1] - (ulong)from[0]) <= (ulong)cell << bits)
            {
                interval++;
            }

            guide[cell] = interval;
        }

        return (guide, bits);
    }
}
