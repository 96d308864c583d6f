using System.Collections.Immutable;
using System.Text;
using PostPipeline.Quantities;
using PostPipeline.Timecodes.Inventories;

namespace PostPipeline.Timecodes.Conforming;

/// <summary>Merges what events want into ranges of files.</summary>
internal static class PullPlanner
{
    public static PullList Plan(Inventory inventory, List<WantedRange> wanted, int eventsLeftOut, PullOptions options)
    {
        Guard.InRange(options.MergeGapFrames, 0, 1_000_000);
        List<PullRange> trimmed = [];
        List<PullRange> whole = [];
        List<PullRange> planned = [];
        foreach ((int row, SourceSpan span, int events) in Merge(wanted, options.MergeGapFrames))
        {
            foreach ((int file, SourceSpan part) in Files(inventory, row, span))
            {
                PullRange cutOut = new(file, part, false, BytesOf(inventory, file, part.Frames), events);
                PullRange asWhole = new(file, new(0, inventory.Columns.Rows[file].Frames), true, BytesOf(inventory, file, inventory.Columns.Rows[file].Frames), events);
                trimmed.Add(cutOut);
                AddWhole(whole, asWhole);
                bool keepWhole = inventory.Columns.Trimmable(file) switch
                {
                    Trimmability.Yes => false,
                    Trimmability.No => true,
                    _ => options.WholeWhereUnknown,
                };
                if (keepWhole)
                {
                    AddWhole(planned, asWhole);
                }
                else
                {
                    planned.Add(cutOut);
                }
            }
        }

        ImmutableArray<string> media =
        [
            .. planned.Select(range => inventory.Columns.Rows[range.Row].Medium).Where(id => id >= 0).Distinct().Select(inventory.Media.Text)
                .Order(StringComparer.Ordinal),
        ];
        Dictionary<int, int> rankOfMedium = media.Select((text, rank) => (Id: inventory.Media.Find(Encoding.UTF8.GetBytes(text)), rank))
            .ToDictionary(pair => pair.Id, pair => pair.rank);
        ImmutableArray<PullRange> ordered =
        [
            .. planned.OrderBy(range => rankOfMedium.GetValueOrDefault(inventory.Columns.Rows[range.Row].Medium, int.MaxValue))
                .ThenBy(range => range.Row).ThenBy(range => range.Frames.First),
        ];
        return new(inventory, ordered, Total(ordered), Total(trimmed), Total(whole), media, eventsLeftOut);
    }

    /// <summary>Ranges of one clip that overlap, touch, or lie fewer than <paramref name="gap"/> frames apart become one.</summary>
    internal static IEnumerable<(int Row, SourceSpan Frames, int Events)> Merge(List<WantedRange> wanted, int gap)
    {
        wanted.Sort((a, b) => a.Row != b.Row ? a.Row.CompareTo(b.Row) : a.Frames.First.CompareTo(b.Frames.First));
        int at = 0;
        while (at < wanted.Count)
        {
            int row = wanted[at].Row;
            long first = wanted[at].Frames.First;
            long end = wanted[at].Frames.End;
            int events = 1;
            for (at++; at < wanted.Count && wanted[at].Row == row; at++)
            {
                long distance = wanted[at].Frames.First - end;
                if (distance > 0 && distance >= gap)
                {
                    break;
                }

                end = Math.Max(end, wanted[at].Frames.End);
                events++;
            }

            yield return (row, new(first, end - first), events);
        }
    }

    private static IEnumerable<(int File, SourceSpan Part)> Files(Inventory inventory, int row, SourceSpan span)
    {
        if (inventory.TakeOf(row) is not { } take)
        {
            yield return (row, span);
            yield break;
        }

        foreach (TakeChunk chunk in take.Chunks)
        {
            SourceSpan inside = span.Inside(new(chunk.Offset, chunk.Frames));
            if (inside.Frames > 0)
            {
                yield return (chunk.Row, new(inside.First - chunk.Offset, inside.Frames));
            }
        }
    }

    private static void AddWhole(List<PullRange> ranges, PullRange whole)
    {
        // Ranges come in order of rows, so a file that is already there is the last one.
        if (ranges.Count > 0 && ranges[^1].Row == whole.Row)
        {
            ranges[^1] = ranges[^1] with { Events = ranges[^1].Events + whole.Events };
        }
        else
        {
            ranges.Add(whole);
        }
    }

    internal static long? BytesOf(Inventory inventory, int file, long frames)
    {
        long bytes = inventory.Columns.Rows[file].Bytes;
        if (bytes < 0)
        {
            return null;
        }

        Int128 product = (Int128)bytes * frames;
        long of = inventory.Columns.Rows[file].Frames;
        return (long)((product + of - 1) / of);
    }

    internal static PullTotals Total(IReadOnlyList<PullRange> ranges)
    {
        int files = 0;
        int unknown = 0;
        long frames = 0;
        long bytes = 0;
        int last = -1;
        foreach (PullRange range in ranges)
        {
            if (range.Row != last)
            {
                files++;
                unknown += range.Bytes is null ? 1 : 0;
                last = range.Row;
            }

            frames = checked(frames + range.Frames.Frames);
            bytes = checked(bytes + (range.Bytes ?? 0));
        }

        return new(files, frames, bytes, unknown);
    }
}
