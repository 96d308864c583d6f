using System.Runtime.InteropServices;
using PostPipeline.Quantities;

namespace PostPipeline.Timecodes.OffSpeed;

/// <summary>
/// Finds the takes of one reel that hold the same labels: an over-cranked clip that runs into the next one, a
/// counter that restarts, a day that repeats yesterday's labels.
/// </summary>
public sealed record LabelCollisions
{
    private LabelCollisions(IReadOnlyList<LabelCollision> found, bool complete)
    {
        Found = found;
        IsComplete = complete;
    }

    /// <summary>The collisions, ordered by the earlier take, then by the later one.</summary>
    public IReadOnlyList<LabelCollision> Found { get; }

    /// <summary>Whether all are listed; false where the search stopped at its limit.</summary>
    public bool IsComplete { get; }

    /// <summary>Searches a list of takes.</summary>
    /// <param name="takes">Takes in the order in which they were recorded; those of one reel must have one format.</param>
    /// <param name="limit">The most collisions to list, 1 or more.</param>
    /// <param name="cancellation">Stops the search.</param>
    /// <exception cref="ArgumentException">Takes of one reel have different formats.</exception>
    /// <remarks>O(n log n + collisions): labels are unrolled to a line of one day, swept in order of their start.</remarks>
    public static LabelCollisions Among(IReadOnlyList<LabelledTake> takes, int limit, CancellationToken cancellation = default)
    {
        Guard.InRange(limit, 1, int.MaxValue);
        Dictionary<string, List<int>> reels = new(StringComparer.Ordinal);
        for (int i = 0; i < takes.Count; i++)
        {
            if (!takes[i].Labels.IsEmpty)
            {
                ref List<int>? members = ref CollectionsMarshal.GetValueRefOrAddDefault(reels, takes[i].Reel, out _);
                (members ??= []).Add(i);
            }
        }

        HashSet<(int First, int Second)> pairs = [];
        foreach (List<int> members in reels.Values)
        {
            if (!Sweep(takes, members, pairs, limit, cancellation))
            {
                break;
            }
        }

        List<LabelCollision> found = [.. pairs.Order().Take(limit).Select(pair => Collision(takes, pair.First, pair.Second))];
        return new(found, pairs.Count <= limit);
    }

    private static LabelCollision Collision(IReadOnlyList<LabelledTake> takes, int first, int second)
    {
        IReadOnlyList<TimecodeRange> shared = takes[first].Labels.Intersect(takes[second].Labels);
        return new(first, second, shared.Sum(piece => piece.FrameCount), shared[0].Start);
    }

    // Returns false once more pairs than the limit are known.
    private static bool Sweep(
        IReadOnlyList<LabelledTake> takes, List<int> members, HashSet<(int First, int Second)> pairs, int limit, CancellationToken cancellation)
    {
        TimecodeFormat format = takes[members[0]].Labels.Start.Format;
        List<(long From, long Until, int Take)> pieces = [];
        foreach (int take in members)
        {
            TimecodeRange labels = takes[take].Labels;
            if (!labels.Start.Format.Equals(format))
            {
                throw new ArgumentException($"Reel '{takes[take].Reel}' holds labels at {format} and at {labels.Start.Format}; they cannot be compared.", nameof(takes));
            }

            long from = labels.Start.FrameIndex;
            long until = from + labels.DistinctLabels;
            pieces.Add((from, Math.Min(until, format.FramesPerDay), take));
            if (until > format.FramesPerDay)
            {
                pieces.Add((0, until - format.FramesPerDay, take));
            }
        }

        pieces.Sort();
        List<(long Until, int Take)> open = [];
        foreach ((long from, long until, int take) in pieces)
        {
            cancellation.ThrowIfCancellationRequested();
            open.RemoveAll(o => o.Until <= from);
            foreach ((_, int other) in open)
            {
                if (other != take && pairs.Add((Math.Min(take, other), Math.Max(take, other))) && pairs.Count > limit)
                {
                    return false;
                }
            }

            open.Add((until, take));
        }

        return true;
    }
}
