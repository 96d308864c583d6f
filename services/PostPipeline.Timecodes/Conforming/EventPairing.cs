using PostPipeline.Quantities;
using PostPipeline.Timecodes.EditLists;

namespace PostPipeline.Timecodes.Conforming;

/// <summary>Finds for every event of a new cut the event of the old cut that it came from.</summary>
internal static class EventPairing
{
    // An event that overlaps hundreds of others of its clip is paired with one of the nearest.
    private const int MostLookedAt = 64;

    /// <summary>The old event of each new one, or −1. First the same frames at the same place, then the same frames, then most frames in common.</summary>
    public static int[] Pair(Cut oldCut, Cut newCut, CancellationToken cancellationToken)
    {
        int[] partner = new int[newCut.Events.Length];
        Array.Fill(partner, -1);
        bool[] taken = new bool[oldCut.Events.Length];
        Dictionary<(ExactKey, long RecordIn), Queue<int>> inPlace = [];
        Dictionary<ExactKey, Queue<int>> exact = [];
        Dictionary<ClipKey, List<int>> byClip = [];
        for (int i = 0; i < oldCut.Events.Length; i++)
        {
            CutEvent item = oldCut.Events[i];
            Add(inPlace, (new(item), item.RecordIn), i);
            Add(exact, new(item), i);
            if (!byClip.TryGetValue(new(item), out List<int>? list))
            {
                byClip.Add(new(item), list = []);
            }

            list.Add(i);
        }

        for (int i = 0; i < partner.Length; i++)
        {
            CutEvent item = newCut.Events[i];
            Take(inPlace, (new(item), item.RecordIn), i, partner, taken);
        }

        for (int i = 0; i < partner.Length; i++)
        {
            if (partner[i] < 0)
            {
                Take(exact, new(newCut.Events[i]), i, partner, taken);
            }
        }

        foreach (List<int> list in byClip.Values)
        {
            list.Sort((a, b) => oldCut.Events[a].SourceIn.CompareTo(oldCut.Events[b].SourceIn));
        }

        for (int i = 0; i < partner.Length; i++)
        {
            cancellationToken.ThrowIfCancellationRequested();
            if (partner[i] < 0 && byClip.TryGetValue(new(newCut.Events[i]), out List<int>? list))
            {
                int best = MostInCommon(oldCut, newCut.Events[i], list, taken);
                if (best >= 0)
                {
                    partner[i] = best;
                    taken[best] = true;
                }
            }
        }

        return partner;
    }

    /// <summary>Which paired events keep their order: those on a longest run that rises in both cuts.</summary>
    public static bool[] KeepOrder(int[] partner)
    {
        bool[] keeps = new bool[partner.Length];
        List<int> tails = [];
        int[] before = new int[partner.Length];
        for (int i = 0; i < partner.Length; i++)
        {
            if (partner[i] < 0)
            {
                keeps[i] = true;
                continue;
            }

            int low = 0;
            int high = tails.Count;
            while (low < high)
            {
                int middle = (low + high) >> 1;
                if (partner[tails[middle]] < partner[i])
                {
                    low = middle + 1;
                }
                else
                {
                    high = middle;
                }
            }

            before[i] = low > 0 ? tails[low - 1] : -1;
            if (low == tails.Count)
            {
                tails.Add(i);
            }
            else
            {
                tails[low] = i;
            }
        }

        for (int i = tails.Count > 0 ? tails[^1] : -1; i >= 0; i = before[i])
        {
            keeps[i] = true;
        }

        return keeps;
    }

    private static int MostInCommon(Cut oldCut, CutEvent item, List<int> list, bool[] taken)
    {
        // Events are in order of their first source frame: begin at the last one that starts before this one ends.
        int low = 0;
        int high = list.Count;
        while (low < high)
        {
            int middle = (low + high) >> 1;
            if (oldCut.Events[list[middle]].SourceIn < item.SourceIn + Math.Max(1, item.SourceFrames))
            {
                low = middle + 1;
            }
            else
            {
                high = middle;
            }
        }

        int best = -1;
        long most = 0;
        for (int place = low - 1, looked = 0; place >= 0 && looked < MostLookedAt; place--, looked++)
        {
            CutEvent other = oldCut.Events[list[place]];
            long common = new SourceSpan(item.SourceIn, item.SourceFrames).Inside(new(other.SourceIn, other.SourceFrames)).Frames;
            bool nearer = best >= 0 && common == most
                && Math.Abs(other.RecordIn - item.RecordIn) < Math.Abs(oldCut.Events[best].RecordIn - item.RecordIn);
            if (!taken[list[place]] && (common > most || (common > 0 && nearer)))
            {
                (best, most) = (list[place], common);
            }
        }

        return best;
    }

    private static void Add<TKey>(Dictionary<TKey, Queue<int>> map, TKey key, int place)
        where TKey : notnull
    {
        if (!map.TryGetValue(key, out Queue<int>? queue))
        {
            map.Add(key, queue = new());
        }

        queue.Enqueue(place);
    }

    private static void Take<TKey>(Dictionary<TKey, Queue<int>> map, TKey key, int place, int[] partner, bool[] taken)
        where TKey : notnull
    {
        if (!map.TryGetValue(key, out Queue<int>? queue))
        {
            return;
        }

        while (queue.TryDequeue(out int old))
        {
            if (!taken[old])
            {
                (partner[place], taken[old]) = (old, true);
                return;
            }
        }
    }

    // A clip is known by its name; where the list carries none, by its reel.
    private readonly record struct ClipKey(string Tracks, SourceKind Source, string Name, TimecodeFormat Format)
    {
        public ClipKey(CutEvent item)
            : this(item.Tracks.ToUpperInvariant(), item.Source, (item.ClipName.Length > 0 ? item.ClipName : "\n" + item.Reel).ToUpperInvariant(), item.SourceFormat)
        {
        }
    }

    private readonly record struct ExactKey(ClipKey Clip, long SourceIn, long SourceFrames, long RecordFrames, Rational Speed)
    {
        public ExactKey(CutEvent item)
            : this(new ClipKey(item), item.SourceIn, item.SourceFrames, item.RecordFrames, item.Speed)
        {
        }
    }
}
