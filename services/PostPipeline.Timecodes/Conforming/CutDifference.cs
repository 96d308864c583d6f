using System.Collections.Immutable;
using PostPipeline.Timecodes.EditLists;
using PostPipeline.Timecodes.Inventories;

namespace PostPipeline.Timecodes.Conforming;

/// <summary>What changed from an old cut to a new one, event by event, and what has to be rendered for it.</summary>
/// <param name="Old">The old cut.</param>
/// <param name="New">The new cut.</param>
/// <param name="Events">First the events of the new cut in order, then those that only the old one has.</param>
/// <param name="FramesToRender">Record frames to render where each event keeps a render of its own.</param>
/// <param name="FramesFromFirstChange">Record frames to render where the cut is one file: from the first change to the end.</param>
public sealed record CutDifference(
    Cut Old, Cut New, ImmutableArray<ChangedEvent> Events, long FramesToRender, long FramesFromFirstChange)
{
    /// <summary>How many events changed in a way.</summary>
    /// <param name="change">The way.</param>
    public int Count(CutChange change)
    {
        int count = 0;
        foreach (ChangedEvent item in Events)
        {
            count += item.Change == change ? 1 : 0;
        }

        return count;
    }

    /// <summary>Compares two cuts.</summary>
    /// <param name="oldCut">The cut that was conformed before.</param>
    /// <param name="newCut">The cut as it is now.</param>
    /// <param name="cancellationToken">Ends the comparison early.</param>
    public static CutDifference Of(Cut oldCut, Cut newCut, CancellationToken cancellationToken = default)
    {
        int[] partner = EventPairing.Pair(oldCut, newCut, cancellationToken);
        bool[] keepsOrder = EventPairing.KeepOrder(partner);
        ImmutableArray<ChangedEvent>.Builder events = ImmutableArray.CreateBuilder<ChangedEvent>();
        bool[] oldIsPaired = new bool[oldCut.Events.Length];
        long toRender = 0;
        long firstChange = long.MaxValue;
        long end = newCut.Events.IsEmpty ? 0 : newCut.Events.Max(e => e.RecordOut);
        for (int i = 0; i < partner.Length; i++)
        {
            CutEvent item = newCut.Events[i];
            ChangedEvent changed = partner[i] < 0
                ? new(CutChange.Added, -1, i, 0, true, 0, 0, false, item.RecordFrames)
                : Compare(oldCut.Events[partner[i]], item, partner[i], i, keepsOrder[i]);
            if (partner[i] >= 0)
            {
                oldIsPaired[partner[i]] = true;
            }

            events.Add(changed);
            toRender += changed.FramesToRender;
            if (changed.Change != CutChange.Unchanged || changed.TransitionChanged)
            {
                firstChange = Math.Min(firstChange, item.RecordIn);
            }
        }

        for (int i = 0; i < oldIsPaired.Length; i++)
        {
            if (!oldIsPaired[i])
            {
                events.Add(new(CutChange.Removed, i, -1, 0, true, 0, 0, false, 0));
                firstChange = Math.Min(firstChange, oldCut.Events[i].RecordIn);
            }
        }

        return new(oldCut, newCut, events.DrainToImmutable(), toRender, firstChange >= end ? 0 : end - firstChange);
    }

    private static ChangedEvent Compare(CutEvent before, CutEvent now, int oldPlace, int newPlace, bool keepsOrder)
    {
        long head = now.SourceIn - before.SourceIn;
        long tail = head + now.SourceFrames - before.SourceFrames;
        bool transition = before.Transition != now.Transition;
        bool retimed = before.Speed != now.Speed;
        bool trimmed = head != 0 || tail != 0 || before.RecordFrames != now.RecordFrames;
        CutChange change = retimed ? CutChange.Retimed
            : trimmed ? CutChange.Trimmed
            : now.RecordIn != before.RecordIn ? CutChange.Moved
            : CutChange.Unchanged;
        long render = change switch
        {
            CutChange.Retimed => now.RecordFrames,
            CutChange.Trimmed => NewRecordFrames(before, now),
            _ => 0,
        };
        if (transition)
        {
            render = Math.Min(now.RecordFrames, Math.Max(render, Math.Max(before.Transition.DurationFrames, now.Transition.DurationFrames)));
        }

        return new(change, oldPlace, newPlace, now.RecordIn - before.RecordIn, keepsOrder, head, tail, transition, render);
    }

    private static long NewRecordFrames(CutEvent before, CutEvent now)
    {
        if (now.Speed.Sign == 0)
        {
            return Math.Max(0, now.RecordFrames - before.RecordFrames);
        }

        Quantities.Rational magnitude = now.Speed.Sign < 0 ? -now.Speed : now.Speed;
        SourceSpan shared = new SourceSpan(now.SourceIn, now.SourceFrames).Inside(new(before.SourceIn, before.SourceFrames));

        // At another speed than one, a trim that is no whole number of record frames changes every frame.
        Quantities.Rational shift = (now.SourceIn - before.SourceIn) / magnitude;
        long kept = shift.IsInteger ? (shared.Frames / magnitude).Floor() : 0;
        return Math.Max(0, now.RecordFrames - kept);
    }
}
