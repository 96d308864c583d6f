using System.Runtime.InteropServices;

namespace PostPipeline.Timecodes.Inventories;

/// <summary>
/// Clips grouped by a key (a reel and a format, say), each group ordered by first label, with the latest end of every
/// subtree beside it: an augmented balanced tree laid out in two arrays, eight bytes a clip. Finding the clips that
/// hold a range costs the logarithm of the group plus what is found, also where one clip is as long as the day.
/// </summary>
internal sealed class IntervalGroups
{
    private readonly Dictionary<long, (int From, int Until)> groups;
    private readonly int[] order;
    private readonly int[] latestEnd;
    private readonly ClipRows columns;

    private IntervalGroups(Dictionary<long, (int From, int Until)> groups, int[] order, int[] latestEnd, ClipRows columns)
    {
        this.groups = groups;
        this.order = order;
        this.latestEnd = latestEnd;
        this.columns = columns;
    }

    /// <summary>Bytes held by the arrays.</summary>
    public long MemoryBytes => 4L * (order.Length + latestEnd.Length);

    /// <summary>The key of a text or camera or day and a format.</summary>
    public static long Key(int part, int format) => ((long)part << 16) | (uint)format;

    /// <summary>Builds the groups of the rows whose key is not negative.</summary>
    /// <param name="columns">The rows.</param>
    /// <param name="rowCount">How many.</param>
    /// <param name="keyOf">A key, or −1 to leave a row out.</param>
    public static IntervalGroups Build(ClipRows columns, int rowCount, Func<int, long> keyOf)
    {
        Dictionary<long, int> idOfKey = [];
        List<int> sizes = [];
        int[] groupOfRow = new int[rowCount];
        long lastKey = -1;
        int lastId = -1;
        int kept = 0;
        for (int row = 0; row < rowCount; row++)
        {
            long key = columns.Rows[row].Start < 0 ? -1 : keyOf(row);
            if (key < 0)
            {
                groupOfRow[row] = -1;
                continue;
            }

            if (key != lastKey)
            {
                ref int id = ref CollectionsMarshal.GetValueRefOrAddDefault(idOfKey, key, out bool there);
                if (!there)
                {
                    id = sizes.Count;
                    sizes.Add(0);
                }

                (lastKey, lastId) = (key, id);
            }

            groupOfRow[row] = lastId;
            sizes[lastId]++;
            kept++;
        }

        int[] at = new int[sizes.Count];
        for (int i = 1; i < at.Length; i++)
        {
            at[i] = at[i - 1] + sizes[i - 1];
        }

        Dictionary<long, (int From, int Until)> groups = new(idOfKey.Count);
        foreach ((long key, int id) in idOfKey)
        {
            groups.Add(key, (at[id], at[id] + sizes[id]));
        }

        int[] order = new int[kept];
        for (int row = 0; row < rowCount; row++)
        {
            if (groupOfRow[row] >= 0)
            {
                order[at[groupOfRow[row]]++] = row;
            }
        }

        // The memory of the first pass is large enough for the second.
        int[] latestEnd = kept == rowCount ? groupOfRow : new int[kept];
        IntervalGroups built = new(groups, order, latestEnd, columns);
        foreach ((int from, int until) in groups.Values)
        {
            built.Sort(from, until);
            built.FillLatestEnd(from, until);
        }

        return built;
    }

    /// <summary>How many clips a group has.</summary>
    public int CountIn(long key) => groups.TryGetValue(key, out (int From, int Until) range) ? range.Until - range.From : 0;

    /// <summary>Adds to a list the rows of a group that hold every frame of [from, until), up to a limit.</summary>
    public void Holding(long key, long from, long until, int most, List<int> found)
    {
        if (groups.TryGetValue(key, out (int From, int Until) range))
        {
            Holding(range.From, range.Until, from, until, most, found);
        }
    }

    /// <summary>Adds to a list the rows of a group that share a frame with [from, until), up to a limit.</summary>
    public void Meeting(long key, long from, long until, int most, List<int> found)
    {
        if (groups.TryGetValue(key, out (int From, int Until) range))
        {
            Meeting(range.From, range.Until, from, until, most, found);
        }
    }

    /// <summary>The rows of a group before and behind a frame: the last that begins at or before it and the first that begins later; −1 where there is none.</summary>
    public (int Before, int Behind) Neighbours(long key, long frame)
    {
        if (!groups.TryGetValue(key, out (int From, int Until) range))
        {
            return (-1, -1);
        }

        int low = range.From;
        int high = range.Until;
        while (low < high)
        {
            int middle = (low + high) >> 1;
            if (columns.Rows[order[middle]].Start <= frame)
            {
                low = middle + 1;
            }
            else
            {
                high = middle;
            }
        }

        return (low > range.From ? order[low - 1] : -1, low < range.Until ? order[low] : -1);
    }

    /// <summary>The rows of every group, group by group, in order of their first label.</summary>
    public IEnumerable<ReadOnlyMemory<int>> Groups()
    {
        foreach ((int from, int until) in groups.Values)
        {
            yield return order.AsMemory(from, until - from);
        }
    }

    private long EndOf(int place) => (long)columns.Rows[order[place]].Start + columns.Rows[order[place]].Frames;

    private void Sort(int from, int until)
    {
        for (int i = from + 1; i < until; i++)
        {
            if (columns.Rows[order[i - 1]].Start > columns.Rows[order[i]].Start)
            {
                // Inventories mostly come in order; only a group that does not is sorted, with the row as second key.
                ClipRow[] rows = columns.Rows;
                order.AsSpan(from, until - from).Sort((a, b) =>
                    rows[a].Start != rows[b].Start ? rows[a].Start.CompareTo(rows[b].Start) : a.CompareTo(b));
                return;
            }
        }
    }

    private int FillLatestEnd(int from, int until)
    {
        if (from >= until)
        {
            return int.MinValue;
        }

        int middle = (from + until) >> 1;
        int end = (int)EndOf(middle);
        end = Math.Max(end, FillLatestEnd(from, middle));
        end = Math.Max(end, FillLatestEnd(middle + 1, until));
        latestEnd[middle] = end;
        return end;
    }

    private void Holding(int low, int high, long from, long until, int most, List<int> found)
    {
        while (low < high && found.Count < most)
        {
            int middle = (low + high) >> 1;
            if (latestEnd[middle] < until)
            {
                return;
            }

            Holding(low, middle, from, until, most, found);
            if (columns.Rows[order[middle]].Start > from)
            {
                return;
            }

            if (EndOf(middle) >= until && found.Count < most)
            {
                found.Add(order[middle]);
            }

            low = middle + 1;
        }
    }

    private void Meeting(int low, int high, long from, long until, int most, List<int> found)
    {
        while (low < high && found.Count < most)
        {
            int middle = (low + high) >> 1;
            if (latestEnd[middle] <= from)
            {
                return;
            }

            Meeting(low, middle, from, until, most, found);
            if (columns.Rows[order[middle]].Start >= until)
            {
                return;
            }

            if (EndOf(middle) > from && found.Count < most)
            {
                found.Add(order[middle]);
            }

            low = middle + 1;
        }
    }
}
