using System.Globalization;
using System.Text;
using PostPipeline.Timecodes.Conforming;
using PostPipeline.Timecodes.Inventories;

namespace PostPipeline.Timecodes.MediaChecks;

/// <summary>
/// Did it come out right? Compares the media that are there with the plan, clip by clip, and looks for what is odd
/// without any plan: outliers in size, gaps in numbering, incomplete takes, proxies that are not one to one.
/// </summary>
public static class MediaCheck
{
    /// <summary>Checks media against a plan.</summary>
    /// <param name="plan">What should be there; an empty inventory where there is no plan.</param>
    /// <param name="media">What is there.</param>
    /// <param name="options">Thresholds; null for the defaults.</param>
    public static MediaCheckResult Of(Inventory plan, Inventory media, MediaCheckOptions? options = null)
    {
        FindingList findings = new((options ?? new()).MaximumFindings);
        int asPlanned = ComparePlan(plan, media, findings);
        Sizes(media, options ?? new(), findings);
        Numbers(media, findings);
        Chunks(media, findings);
        Proxies(media, options ?? new(), findings);
        return new(Alone(plan).Count(), Alone(media).Count(), asPlanned, [.. findings.Listed], findings.LeftOff);
    }

    private static IEnumerable<int> Alone(Inventory inventory) => Enumerable.Range(0, inventory.RowCount).Where(inventory.StandsAlone);

    private static string Key(Inventory inventory, int row) =>
        $"{(int)inventory.Columns.Kind(row)} {Encoding.UTF8.GetString(FoldedText.Stem(inventory.Columns.Name(row))).ToUpperInvariant()}";

    private static int ComparePlan(Inventory plan, Inventory media, FindingList findings)
    {
        Dictionary<string, List<int>> found = [];
        foreach (int row in Alone(media))
        {
            string key = Key(media, row);
            if (!found.TryGetValue(key, out List<int>? rows))
            {
                found.Add(key, rows = []);
            }

            rows.Add(row);
            if (media.Columns.Rows[row].Bytes == 0)
            {
                findings.Add(new(MediaFindingKind.Empty, media.NameOf(row), string.Empty, string.Empty));
            }
        }

        foreach (List<int> rows in found.Values.Where(rows => rows.Count > 1))
        {
            findings.Add(new(MediaFindingKind.Repeated, media.NameOf(rows[0]), "1", rows.Count.ToString(CultureInfo.InvariantCulture)));
        }

        int good = 0;
        HashSet<string> planned = [];
        foreach (int row in Alone(plan))
        {
            string key = Key(plan, row);
            planned.Add(key);
            if (!found.TryGetValue(key, out List<int>? rows))
            {
                findings.Add(new(MediaFindingKind.Missing, plan.NameOf(row), string.Empty, string.Empty));
            }
            else if (CompareClip(plan[row], media[rows[0]], findings) && rows.Count == 1)
            {
                good++;
            }
        }

        if (plan.Count > 0)
        {
            foreach ((string key, List<int> rows) in found.Where(f => !planned.Contains(f.Key)))
            {
                findings.Add(new(MediaFindingKind.Unplanned, media.NameOf(rows[0]), string.Empty, string.Empty));
            }
        }

        return good;
    }

    private static bool CompareClip(Clip wanted, Clip there, FindingList findings)
    {
        int before = findings.Count;
        if (wanted.Frames != there.Frames)
        {
            findings.Add(new(MediaFindingKind.Frames, wanted.Name, Text(wanted.Frames), Text(there.Frames)));
        }

        if (wanted.Format.Rate != there.Format.Rate)
        {
            findings.Add(new(MediaFindingKind.Rate, wanted.Name, wanted.Format.Rate.ToString(), there.Format.Rate.ToString()));
        }
        else if (wanted.Format.DropFrame != there.Format.DropFrame)
        {
            findings.Add(new(MediaFindingKind.DropFlag, wanted.Name, Numbering(wanted), Numbering(there)));
        }

        if (wanted.Start is { } start && (there.Start is not { } found || wanted.Format.FieldsOf(start) != there.Format.FieldsOf(found)))
        {
            findings.Add(new(MediaFindingKind.Start, wanted.Name, Label(wanted), Label(there)));
        }

        if (wanted.Raster is { } raster && there.Raster is { } picture && raster != picture)
        {
            findings.Add(new(MediaFindingKind.Raster, wanted.Name, raster.ToString(), picture.ToString()));
        }

        return findings.Count == before;
    }

    private static void Sizes(Inventory media, MediaCheckOptions options, FindingList findings)
    {
        ClipRows c = media.Columns;
        foreach (IGrouping<(ClipKind, ushort, ushort, ushort), int> like in Enumerable.Range(0, media.Count)
            .Where(row => c.Rows[row].Bytes > 0)
            .GroupBy(row => (c.Kind(row), c.Rows[row].Format, c.Rows[row].Raster, c.Rows[row].SensorRate)))
        {
            double[] sizes = [.. like.Select(row => (double)c.Rows[row].Bytes / c.Rows[row].Frames)];
            if (sizes.Length < options.FewestLikeFiles)
            {
                continue;
            }

            double[] sorted = [.. sizes.Order()];
            double median = sorted.Length % 2 == 1 ? sorted[sorted.Length / 2] : (sorted[(sorted.Length / 2) - 1] + sorted[sorted.Length / 2]) / 2;
            int place = 0;
            foreach (int row in like)
            {
                double size = sizes[place++];
                if (size < median * options.SmallestShareOfMedian || size > median * options.LargestShareOfMedian)
                {
                    findings.Add(new(MediaFindingKind.Size, media.NameOf(row), Text((long)median), Text((long)size)));
                }
            }
        }
    }

    private static void Numbers(Inventory media, FindingList findings)
    {
        // A001C001, A001C002, A001C004: same beginning, same number of digits, a number left out.
        Dictionary<string, SortedSet<int>> rows = [];
        foreach (int row in Alone(media))
        {
            string name = Encoding.UTF8.GetString(FoldedText.Stem(media.Columns.Name(row)));
            int digits = 0;
            while (digits < Math.Min(name.Length, 9) && char.IsAsciiDigit(name[^(digits + 1)]))
            {
                digits++;
            }

            if (digits > 0)
            {
                string key = $"{(int)media.Columns.Kind(row)}\n{name[..^digits]}\n{digits}";
                if (!rows.TryGetValue(key, out SortedSet<int>? numbers))
                {
                    rows.Add(key, numbers = []);
                }

                numbers.Add(int.Parse(name[^digits..], CultureInfo.InvariantCulture));
            }
        }

        foreach ((string key, SortedSet<int> numbers) in rows)
        {
            // Numbers that are mostly not there are no numbering but dates or identifiers.
            if (numbers.Count < 2 || numbers.Max - numbers.Min + 1L > 2L * numbers.Count)
            {
                continue;
            }

            string[] parts = key.Split('\n');
            for (int number = numbers.Min; number <= numbers.Max; number++)
            {
                if (!numbers.Contains(number))
                {
                    findings.Add(new(MediaFindingKind.Numbering, parts[1] + number.ToString($"D{parts[2]}", CultureInfo.InvariantCulture), string.Empty, string.Empty));
                }
            }
        }
    }

    private static void Chunks(Inventory media, FindingList findings)
    {
        foreach (ChunkedTake take in media.Takes)
        {
            foreach (int number in take.MissingChunks)
            {
                findings.Add(new(MediaFindingKind.Chunks, media.NameOf(take.Row), Text(take.ExpectedChunks), $"file {number} of {take.ExpectedChunks} is missing"));
            }

            foreach (int number in take.BrokenAfter)
            {
                findings.Add(new(MediaFindingKind.Chunks, media.NameOf(take.Row), string.Empty, $"labels do not run on after file {number}"));
            }
        }
    }

    private static void Proxies(Inventory media, MediaCheckOptions options, FindingList findings)
    {
        ProxyPairing pairing = ProxyPairing.Of(media);
        bool expected = options.ProxiesExpected ?? (pairing.Pairs.Length > 0);
        foreach (ProxyPair pair in pairing.Pairs.Where(pair => !pair.Serves))
        {
            string found = pair.State switch
            {
                PairState.NoOriginal => "the proxy has no original",
                PairState.SeveralOriginals => "several originals fit the proxy",
                _ => $"proxy and original differ in {string.Join(", ", Differences(pair.Differences))}",
            };
            findings.Add(new(MediaFindingKind.Proxy, media.NameOf(pair.Proxy), string.Empty, found));
        }

        foreach (int row in expected ? pairing.OriginalsWithoutProxy : [])
        {
            findings.Add(new(MediaFindingKind.Proxy, media.NameOf(row), string.Empty, "the original has no proxy"));
        }

        foreach (int row in pairing.OriginalsWithSeveralProxies)
        {
            findings.Add(new(MediaFindingKind.Proxy, media.NameOf(row), string.Empty, "the original has several proxies"));
        }
    }

    private static IEnumerable<string> Differences(PairDifferences differences)
    {
        if (differences.HasFlag(PairDifferences.FrameCount))
        {
            yield return differences.HasFlag(PairDifferences.OffSpeed) ? "frame count (recorded off speed)" : "frame count";
        }

        if (differences.HasFlag(PairDifferences.Start))
        {
            yield return "first label";
        }

        if (differences.HasFlag(PairDifferences.Rate))
        {
            yield return "rate";
        }

        if (differences.HasFlag(PairDifferences.DropFlag))
        {
            yield return "drop flag";
        }

        if (differences.HasFlag(PairDifferences.NameStem))
        {
            yield return "name stem";
        }
    }

    private static string Label(Clip clip) => clip.Start is { } start ? Timecode.FromFrames(start, clip.Format).ToString() : "no label";

    private static string Numbering(Clip clip) => clip.Format.DropFrame ? "drop-frame" : "non-drop";

    private static string Text(long value) => value.ToString(CultureInfo.InvariantCulture);

    private sealed class FindingList(int most)
    {
        public List<MediaFinding> Listed { get; } = [];

        public int LeftOff { get; private set; }

        public int Count => Listed.Count + LeftOff;

        public void Add(MediaFinding finding)
        {
            if (Listed.Count < most)
            {
                Listed.Add(finding);
            }
            else
            {
                LeftOff++;
            }
        }
    }
}
