using System.Collections.Immutable;
using PostPipeline.Timecodes.Inventories;

namespace PostPipeline.Timecodes.Conforming;

/// <summary>What a new cut needs beyond what was pulled for the old one.</summary>
/// <param name="ToFetch">The ranges that are not online yet.</param>
/// <param name="AlreadyOnline">What of the new cut's pull list the old one has brought.</param>
/// <param name="NoLongerNeeded">What the old one brought and the new cut does not need.</param>
public sealed record PullDifference(PullList ToFetch, PullTotals AlreadyOnline, PullTotals NoLongerNeeded)
{
    /// <summary>Subtracts the old pull list from the new one.</summary>
    /// <param name="old">What is online.</param>
    /// <param name="now">What the new cut needs; of the same inventory.</param>
    /// <exception cref="ArgumentException">The lists are of different inventories.</exception>
    public static PullDifference Of(PullList old, PullList now)
    {
        if (!ReferenceEquals(old.Inventory, now.Inventory))
        {
            throw new ArgumentException("Both pull lists must be of one inventory, as rows are compared.", nameof(now));
        }

        ImmutableArray<PullRange> fetch = Without(now, old);
        PullTotals toFetch = PullPlanner.Total(fetch);
        PullTotals shared = PullPlanner.Total(Without(now, fetch));
        PullTotals dropped = PullPlanner.Total(Without(old, now));
        HashSet<int> media = [.. fetch.Select(range => now.Inventory.Columns.Rows[range.Row].Medium).Where(id => id >= 0)];
        PullList list = now with
        {
            Ranges = fetch,
            Planned = toFetch,
            IfTrimmed = toFetch,
            IfWhole = PullPlanner.Total(Whole(now.Inventory, fetch)),
            Media = [.. media.Select(now.Inventory.Media.Text).Order(StringComparer.Ordinal)],
        };
        return new(list, shared, dropped);
    }

    private static ImmutableArray<PullRange> Without(PullList list, PullList others) => Without(list, others.Ranges);

    private static ImmutableArray<PullRange> Without(PullList list, ImmutableArray<PullRange> others)
    {
        ILookup<int, SourceSpan> taken = others.ToLookup(range => range.Row, range => range.Frames);
        ImmutableArray<PullRange>.Builder left = ImmutableArray.CreateBuilder<PullRange>();
        foreach (PullRange range in list.Ranges)
        {
            long at = range.Frames.First;
            List<SourceSpan> pieces = [];
            foreach (SourceSpan span in taken[range.Row].OrderBy(span => span.First))
            {
                if (span.First > at)
                {
                    pieces.Add(new SourceSpan(at, Math.Min(span.First, range.Frames.End) - at));
                }

                at = Math.Max(at, span.End);
                if (at >= range.Frames.End)
                {
                    break;
                }
            }

            if (at < range.Frames.End)
            {
                pieces.Add(new(at, range.Frames.End - at));
            }

            if (range.IsWholeFile && pieces.Count > 0)
            {
                // A file that cannot be trimmed comes whole or not at all.
                left.Add(range);
                continue;
            }

            foreach (SourceSpan piece in pieces.Where(piece => piece.Frames > 0))
            {
                left.Add(range with { Frames = piece, Bytes = PullPlanner.BytesOf(list.Inventory, range.Row, piece.Frames) });
            }
        }

        return left.DrainToImmutable();
    }

    private static List<PullRange> Whole(Inventory inventory, ImmutableArray<PullRange> ranges) =>
    [
        .. ranges.DistinctBy(range => range.Row).Select(range => range with
        {
            Frames = new(0, inventory.Columns.Rows[range.Row].Frames),
            IsWholeFile = true,
            Bytes = PullPlanner.BytesOf(inventory, range.Row, inventory.Columns.Rows[range.Row].Frames),
        }),
    ];
}
