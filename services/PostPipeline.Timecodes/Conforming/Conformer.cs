using System.Runtime.InteropServices;
using System.Text;
using PostPipeline.Quantities;
using PostPipeline.Timecodes.Inventories;

namespace PostPipeline.Timecodes.Conforming;

/// <summary>
/// Matches the events of a cut with the clips of an inventory, on the highest rung of the ladder that gives an
/// answer. Rungs 3 and 4 never pass silently: their matches are marked for a person to confirm.
/// </summary>
public sealed class Conformer
{
    /// <summary>Counting of candidates stops here.</summary>
    public const int MostCandidates = 64;

    /// <summary>At most so many clips of one name are looked at.</summary>
    internal const int MostOfOneName = 10_000;

    private const int BlockEvents = 64;

    private readonly Inventory inventory;
    private readonly ConformOptions options;
    private readonly ClipIndex index;
    private readonly ClipFit fit;
    private readonly NearestMisses misses;
    private readonly List<int> found = [];
    private ProxyPairing? pairing;
    private byte[] nameBytes = new byte[256];
    private byte[] reelBytes = new byte[256];

    /// <summary>Prepares an inventory for matching.</summary>
    /// <param name="inventory">The clips.</param>
    /// <param name="options">How to match; null for the defaults.</param>
    public Conformer(Inventory inventory, ConformOptions? options = null)
    {
        this.options = options ?? new();
        Guard.InRange(this.options.HandleFrames, 0, 10_000);
        this.inventory = inventory;
        index = new(inventory, this.options.Target);
        fit = new(inventory, this.options);
        misses = new(inventory, this.options, index);
    }

    /// <summary>Bytes that the indexes occupy beside the inventory itself; they are made as events ask for them.</summary>
    public long IndexBytes => index.MemoryBytes;

    /// <summary>Matches a whole cut.</summary>
    /// <param name="cut">The cut.</param>
    /// <param name="cancellationToken">Ends the matching early.</param>
    public ConformResult Match(Cut cut, CancellationToken cancellationToken = default)
    {
        EventMatch[] matches = new EventMatch[cut.Events.Length];
        int touched = 0;
        for (int i = 0; i < matches.Length; i++)
        {
            if (i % BlockEvents == 0)
            {
                cancellationToken.ThrowIfCancellationRequested();
                touched |= TouchBlock(cut.Events.AsSpan().Slice(i, Math.Min(BlockEvents, matches.Length - i)));
            }

            matches[i] = Match(cut.Events[i], i);
        }

        GC.KeepAlive(touched);
        return new(cut, inventory, options, ImmutableCollectionsMarshal.AsImmutableArray(matches));
    }

    private int TouchBlock(ReadOnlySpan<CutEvent> events)
    {
        Span<uint> hashes = stackalloc uint[BlockEvents];
        int count = 0;
        foreach (CutEvent item in events)
        {
            if (item.ClipName.Length > 0)
            {
                hashes[count++] = FoldedText.Hash(FoldedText.Stem(SpanOf(ref nameBytes, item.ClipName)));
            }
        }

        return count == 0 ? 0 : index.Names.Touch(hashes[..count], stackalloc int[BlockEvents]);
    }

    /// <summary>Matches one event.</summary>
    /// <param name="item">The event.</param>
    /// <param name="place">Its place in the cut.</param>
    public EventMatch Match(CutEvent item, int place = 0)
    {
        if (!item.NeedsPictures || !HasPictures(item))
        {
            bool auxiliary = item.Source == SourceKind.Auxiliary;
            return new(
                place,
                auxiliary ? ConformClass.None : ConformClass.NotSought,
                auxiliary ? MatchRung.Person : MatchRung.NotSought,
                -1,
                0,
                auxiliary ? ConformFindings.Auxiliary : ConformFindings.None,
                default,
                0,
                0);
        }

        Query query = new(item, inventory, SpanOf(ref nameBytes, item.ClipName), SpanOf(ref reelBytes, item.Reel));
        EventMatch match = FullName(query, place);
        if (match.Class == ConformClass.None && options.ThroughProxies && options.Target == ClipKind.Original)
        {
            match = ThroughProxy(query, place);
        }

        if (match.Class == ConformClass.None)
        {
            match = ByReel(query, place);
        }

        if (match.Class == ConformClass.None)
        {
            match = ByTruncatedReel(query, place);
        }

        if (match.Class == ConformClass.None)
        {
            match = ByCameraOrDate(query, place);
        }

        return match.Class == ConformClass.None ? misses.Of(query, place) : match;
    }

    private static bool HasPictures(CutEvent item) =>
        item.Tracks.Contains('V', StringComparison.OrdinalIgnoreCase) || item.Tracks.Equals("B", StringComparison.OrdinalIgnoreCase);

    private static ReadOnlySpan<byte> SpanOf(ref byte[] room, string text)
    {
        int most = Encoding.UTF8.GetMaxByteCount(text.Length);
        if (most > room.Length)
        {
            room = new byte[most];
        }

        return room.AsSpan(0, Encoding.UTF8.GetBytes(text, room));
    }

    private EventMatch FullName(in Query query, int place)
    {
        if (query.Stem.IsEmpty)
        {
            return default(EventMatch) with { Class = ConformClass.None };
        }

        found.Clear();
        int seen = 0;
        for (int row = index.Names.First(query.Stem); row >= 0; row = index.Names.Next(row, query.Stem))
        {
            if (++seen > MostOfOneName)
            {
                return new(place, ConformClass.SeveralCandidates, MatchRung.FullName, row, MostCandidates, ConformFindings.NameTooCommon, default, 0, 0);
            }

            int whole = inventory.TakeOf(row)?.Row ?? row;
            if (inventory.Columns.Kind(whole) != options.Target || !query.HeldBy(whole) || (found.Count > 0 && found.Contains(whole)))
            {
                continue;
            }

            if (found.Count < MostCandidates)
            {
                found.Add(whole);
            }
        }

        if (found.Count > 1 && query.HasReel)
        {
            // Cameras that number clips anew on each card: name and reel together say which one it is.
            int reel = inventory.Reels.Find(query.Reel);
            List<int> same = found.FindAll(row => inventory.Columns.Rows[row].Reel == reel);
            if (same.Count == 1)
            {
                return fit.Of(query, same[0], MatchRung.FullName, place);
            }
        }

        return Decide(query, MatchRung.FullName, place);
    }

    private EventMatch ThroughProxy(in Query query, int place)
    {
        if (query.Stem.IsEmpty)
        {
            return default(EventMatch) with { Class = ConformClass.None };
        }

        int proxy = -1;
        int count = 0;
        int seen = 0;
        for (int row = index.Names.First(query.Stem); row >= 0 && seen <= MostOfOneName; row = index.Names.Next(row, query.Stem))
        {
            seen++;
            int whole = inventory.TakeOf(row)?.Row ?? row;
            if (inventory.Columns.Kind(whole) == ClipKind.Proxy && whole != proxy && query.HeldBy(whole))
            {
                proxy = whole;
                count++;
            }
        }

        if (count != 1)
        {
            return default(EventMatch) with { Class = ConformClass.None };
        }

        pairing ??= ProxyPairing.Of(inventory, index.Names);
        ProxyPair pair = pairing.PairOf(proxy);
        if (pair.State != PairState.Paired || !pair.FramesCorrespond)
        {
            return default(EventMatch) with { Class = ConformClass.None };
        }

        // Frame n of the proxy is frame n of the original, whatever labels the proxy carries.
        EventMatch match = fit.Of(query, pair.Original, MatchRung.FullName, place, query.OffsetIn(proxy));
        ConformFindings more = ConformFindings.ThroughProxy;
        if (pair.Differences != PairDifferences.None)
        {
            more |= ConformFindings.ToConfirm;
        }

        return match with { Findings = match.Findings | more };
    }

    private EventMatch ByReel(in Query query, int place)
    {
        found.Clear();
        if (query.HasReel && query.FormatId > 0 && inventory.Reels.Find(query.Reel) is var reel and >= 0)
        {
            Collect(index.ByReel, IntervalGroups.Key(reel, query.FormatId), query);
        }

        return Decide(query, MatchRung.Reel, place);
    }

    private EventMatch ByTruncatedReel(in Query query, int place)
    {
        found.Clear();
        if (query.HasReel && query.FormatId > 0)
        {
            foreach (int length in options.ReelLengths)
            {
                if (query.Reel.Length == length)
                {
                    IntervalGroups groups = index.ByPrefix(length, query.Reel, out int prefix);
                    if (prefix >= 0)
                    {
                        Collect(groups, IntervalGroups.Key(prefix, query.FormatId), query);
                    }
                }
                else if (query.Reel.Length > length && inventory.Reels.Find(query.Reel[..length]) is var reel and >= 0)
                {
                    Collect(index.ByReel, IntervalGroups.Key(reel, query.FormatId), query);
                }
            }
        }

        return Decide(query, MatchRung.TruncatedReel, place);
    }

    private EventMatch ByCameraOrDate(in Query query, int place)
    {
        found.Clear();
        if (query.FormatId == 0)
        {
            return Decide(query, MatchRung.CameraOrDate, place);
        }

        int camera = CameraOf(query);
        int day = query.Item.Date?.DayNumber ?? -1;
        if (camera > 0)
        {
            Collect(index.ByCamera, IntervalGroups.Key(camera, query.FormatId), query);
            if (day >= 0)
            {
                found.RemoveAll(row => inventory.Columns.Rows[row].Day >= 0 && inventory.Columns.Rows[row].Day != day);
            }
        }
        else if (day >= 0)
        {
            Collect(index.ByDay, IntervalGroups.Key(day, query.FormatId), query);
        }

        return Decide(query, MatchRung.CameraOrDate, place);
    }

    private int CameraOf(in Query query)
    {
        if (query.Item.Camera.Length > 0)
        {
            return inventory.Cameras.Find(Encoding.UTF8.GetBytes(query.Item.Camera)) + 1;
        }

        // Names begin with the camera's identifier: the longest one that the reel, or else the clip name, begins with.
        ReadOnlySpan<byte> text = query.HasReel ? query.Reel : query.Stem;
        for (int length = Math.Min(text.Length, 8); length > 0; length--)
        {
            int camera = inventory.Cameras.Find(text[..length]);
            if (camera >= 0)
            {
                return camera + 1;
            }
        }

        return 0;
    }

    private void Collect(IntervalGroups groups, long key, in Query query)
    {
        int before = found.Count;
        groups.Holding(key, query.Identity.First, query.Identity.End, MostCandidates + before, found);
        long day = query.Item.SourceFormat.FramesPerDay;
        groups.Holding(key, query.Identity.First + day, query.Identity.End + day, MostCandidates + before, found);
        for (int i = found.Count - 1; i >= before; i--)
        {
            if (!query.HeldBy(found[i]) || found.IndexOf(found[i]) < i)
            {
                found.RemoveAt(i);
            }
        }
    }

    private EventMatch Decide(in Query query, MatchRung rung, int place) => found.Count switch
    {
        0 => default(EventMatch) with { Class = ConformClass.None },
        1 => fit.Of(query, found[0], rung, place),
        _ => new(place, ConformClass.SeveralCandidates, rung, found.Min(), Math.Min(found.Count, MostCandidates), ConformFindings.None, default, 0, 0),
    };
}
