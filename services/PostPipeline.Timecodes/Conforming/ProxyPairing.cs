using System.Collections.Immutable;
using PostPipeline.Quantities;
using PostPipeline.Timecodes.Inventories;

namespace PostPipeline.Timecodes.Conforming;

/// <summary>
/// Pairs every proxy of an inventory with its original: by name (equal, or the original's name followed by an
/// underscore, hyphen or full stop and more), else by reel, labels and frame count.
/// </summary>
public sealed class ProxyPairing
{
    private readonly Dictionary<int, int> placeOfProxy = [];

    private ProxyPairing(ImmutableArray<ProxyPair> pairs, ImmutableArray<int> originalsWithoutProxy, ImmutableArray<int> originalsWithSeveral)
    {
        Pairs = pairs;
        OriginalsWithoutProxy = originalsWithoutProxy;
        OriginalsWithSeveralProxies = originalsWithSeveral;
        for (int i = 0; i < pairs.Length; i++)
        {
            placeOfProxy[pairs[i].Proxy] = i;
        }
    }

    /// <summary>One entry for each proxy, in order of rows.</summary>
    public ImmutableArray<ProxyPair> Pairs { get; }

    /// <summary>Rows of originals that no proxy stands for.</summary>
    public ImmutableArray<int> OriginalsWithoutProxy { get; }

    /// <summary>Rows of originals that more than one proxy stands for.</summary>
    public ImmutableArray<int> OriginalsWithSeveralProxies { get; }

    /// <summary>Whether every proxy serves the cut and every original has one.</summary>
    public bool IsOneToOne => OriginalsWithoutProxy.IsEmpty && OriginalsWithSeveralProxies.IsEmpty && Pairs.All(pair => pair.Serves);

    /// <summary>Pairs the proxies of an inventory.</summary>
    /// <param name="inventory">The inventory.</param>
    public static ProxyPairing Of(Inventory inventory) => Of(inventory, new NameIndex(inventory.Columns, inventory.RowCount));

    /// <summary>The pair of a proxy.</summary>
    /// <param name="proxyRow">A row that is a proxy.</param>
    public ProxyPair PairOf(int proxyRow) =>
        placeOfProxy.TryGetValue(proxyRow, out int place) ? Pairs[place] : new(proxyRow, -1, PairState.NoOriginal, PairDifferences.None);

    internal static ProxyPairing Of(Inventory inventory, NameIndex names)
    {
        ClipRows columns = inventory.Columns;
        Dictionary<int, int> proxiesOf = [];
        ImmutableArray<ProxyPair>.Builder pairs = ImmutableArray.CreateBuilder<ProxyPair>();
        ClipIndex index = new(inventory, ClipKind.Original);
        List<int> candidates = [];
        for (int row = 0; row < inventory.RowCount; row++)
        {
            if (columns.Kind(row) != ClipKind.Proxy || !inventory.StandsAlone(row))
            {
                continue;
            }

            ProxyPair pair = Pair(inventory, names, index, candidates, row);
            pairs.Add(pair);
            if (pair.State == PairState.Paired)
            {
                proxiesOf[pair.Original] = proxiesOf.GetValueOrDefault(pair.Original) + 1;
            }
        }

        List<int> without = [];
        for (int row = 0; row < inventory.RowCount; row++)
        {
            if (columns.Kind(row) == ClipKind.Original && inventory.StandsAlone(row) && !proxiesOf.ContainsKey(row))
            {
                without.Add(row);
            }
        }

        return new(
            pairs.DrainToImmutable(),
            [.. without],
            [.. proxiesOf.Where(entry => entry.Value > 1).Select(entry => entry.Key).Order()]);
    }

    private static ProxyPair Pair(Inventory inventory, NameIndex names, ClipIndex index, List<int> candidates, int proxy)
    {
        ClipRows columns = inventory.Columns;
        ReadOnlySpan<byte> stem = FoldedText.Stem(columns.Name(proxy));
        candidates.Clear();
        while (!stem.IsEmpty && candidates.Count == 0)
        {
            int seen = 0;
            for (int row = names.First(stem); row >= 0 && ++seen <= Conformer.MostOfOneName; row = names.Next(row, stem))
            {
                int whole = inventory.TakeOf(row)?.Row ?? row;
                if (columns.Kind(whole) == ClipKind.Original && !candidates.Contains(whole) && candidates.Count < Conformer.MostCandidates)
                {
                    candidates.Add(whole);
                }
            }

            int cut = stem.LastIndexOfAny("_-."u8);
            stem = cut > 0 ? stem[..cut] : default;
        }

        PairDifferences byName = PairDifferences.None;
        if (candidates.Count == 0 && columns.Rows[proxy].Start >= 0)
        {
            long key = IntervalGroups.Key(columns.Rows[proxy].Reel, columns.Rows[proxy].Format);
            index.ByReel.Holding(key, columns.Rows[proxy].Start, (long)columns.Rows[proxy].Start + columns.Rows[proxy].Frames, Conformer.MostCandidates, candidates);
            candidates.RemoveAll(row => columns.Rows[row].Start != columns.Rows[proxy].Start || columns.Rows[row].Frames != columns.Rows[proxy].Frames);
            byName = PairDifferences.NameStem;
        }

        if (candidates.Count > 1)
        {
            // Clip numbers that start anew on each card: labels and length tell the cards apart.
            List<int> same = candidates.FindAll(row => Compare(inventory, proxy, row) == PairDifferences.None);
            if (same.Count > 1)
            {
                same = same.FindAll(row => columns.Rows[row].Reel == columns.Rows[proxy].Reel);
            }

            if (same.Count != 1)
            {
                return new(proxy, candidates.Min(), PairState.SeveralOriginals, PairDifferences.None);
            }

            return new(proxy, same[0], PairState.Paired, byName);
        }

        return candidates.Count == 0
            ? new(proxy, -1, PairState.NoOriginal, PairDifferences.None)
            : new(proxy, candidates[0], PairState.Paired, byName | Compare(inventory, proxy, candidates[0]));
    }

    private static PairDifferences Compare(Inventory inventory, int proxy, int original)
    {
        ClipRows columns = inventory.Columns;
        TimecodeFormat a = inventory.Formats[columns.Rows[proxy].Format];
        TimecodeFormat b = inventory.Formats[columns.Rows[original].Format];
        PairDifferences differences = PairDifferences.None;
        differences |= a.Rate != b.Rate ? PairDifferences.Rate : 0;
        differences |= a.DropFrame != b.DropFrame ? PairDifferences.DropFlag : 0;
        differences |= columns.Rows[proxy].Frames != columns.Rows[original].Frames ? PairDifferences.FrameCount : 0;
        differences |= SameStart(columns, a, b, proxy, original) ? 0 : PairDifferences.Start;
        if ((differences & PairDifferences.FrameCount) != 0 && columns.Rows[original].SensorRate > 0 && inventory.SensorRateOf(original) != a.Rate)
        {
            // Frames of the same real time: original ÷ proxy = sensor rate ÷ proxy rate, to within a frame.
            Rational expected = columns.Rows[proxy].Frames * (inventory.SensorRateOf(original).FramesPerSecond / a.Rate.FramesPerSecond);
            Rational ratio = inventory.SensorRateOf(original).FramesPerSecond / a.Rate.FramesPerSecond;
            Rational distance = columns.Rows[original].Frames - expected;
            differences |= (distance.Sign < 0 ? -distance : distance) <= ratio + Rational.One ? PairDifferences.OffSpeed : 0;
        }

        return differences;
    }

    private static bool SameStart(ClipRows columns, TimecodeFormat a, TimecodeFormat b, int proxy, int original)
    {
        if (columns.Rows[proxy].Start < 0 || columns.Rows[original].Start < 0)
        {
            return columns.Rows[proxy].Start == columns.Rows[original].Start;
        }

        // Labels are compared, not frame counts: the same label at another rate is the same start.
        return a.FieldsOf(columns.Rows[proxy].Start) == b.FieldsOf(columns.Rows[original].Start);
    }
}
