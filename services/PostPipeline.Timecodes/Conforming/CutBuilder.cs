using System.Collections.Immutable;
using PostPipeline.Quantities;
using PostPipeline.Timecodes.EditLists;

namespace PostPipeline.Timecodes.Conforming;

/// <summary>
/// Brings a frame rate to an edit list. The list itself states no rate; what its numbers rule out is an error:
/// a frame number at or above the nominal rate, drop-frame at a rate without it, a label that drop-frame leaves out.
/// </summary>
public static class CutBuilder
{
    private const int MostProblems = 10_000;

    /// <summary>Counts every label of the list at a rate.</summary>
    /// <param name="list">The list.</param>
    /// <param name="rate">The rate, from outside the list.</param>
    public static CutReading FromEditList(EditList list, FrameRate rate)
    {
        LabelCounter counter = new(rate, MostProblems);
        List<CutEvent> events = new(list.Events.Length);
        bool anyDrop = false;
        for (int i = 0; i < list.Events.Length; i++)
        {
            EditEvent item = list.Events[i];
            if (!counter.TryCount(item, out CountedLabels labels))
            {
                continue;
            }

            anyDrop |= labels.RecordFormat.DropFrame;
            EditEvent? pairedAfter = i + 1 < list.Events.Length && list.Events[i + 1].Number == item.Number ? list.Events[i + 1] : null;
            bool pairedBefore = i > 0 && list.Events[i - 1].Number == item.Number;
            events.Add(Event(item, labels, ClipName(item, pairedBefore, pairedAfter), rate));
        }

        AddTails(events);
        TimecodeFormat record = anyDrop ? TimecodeFormat.From(rate, dropFrame: true) : counter.NonDrop;
        return new(new(list.Title ?? string.Empty, record, [.. events]), [.. counter.Problems], counter.ProblemsLeftOff);
    }

    private static CutEvent Event(EditEvent item, in CountedLabels labels, string clipName, FrameRate rate)
    {
        MotionEffect? motion = item.Motions.Length > 0 ? item.Motions[0] : null;
        TimecodeFormat format = labels.SourceFormat;
        long sourceIn = labels.SourceIn;
        long sourceFrames = format.Wrap(labels.SourceOut - labels.SourceIn);
        if (motion is { IsReverse: true } && sourceFrames > format.FramesPerDay / 2)
        {
            // Written from the later label to the earlier one; whether the ends are in or out differs, so both are taken.
            sourceFrames = format.Wrap(labels.SourceIn - labels.SourceOut) + 1;
            sourceIn = labels.SourceOut;
        }

        long recordFrames = labels.RecordFormat.Wrap(labels.RecordOut - labels.RecordIn);
        Rational speed = Rational.One;
        SpeedOrigin origin = SpeedOrigin.NormalSpeed;
        if (motion is not null)
        {
            speed = motion.SpeedAt(rate);
            origin = SpeedOrigin.Stated;
        }
        else if (recordFrames > 0 && sourceFrames > 0 && sourceFrames != recordFrames)
        {
            speed = new(sourceFrames, recordFrames);
            origin = SpeedOrigin.InferredFromLengths;
        }

        return new()
        {
            Number = item.Number,
            Line = item.Line,
            Tracks = item.Tracks,
            Reel = item.IsBlack || item.IsAuxiliary ? string.Empty : item.Reel,
            ClipName = clipName,
            Source = item.IsBlack ? SourceKind.Black : item.IsAuxiliary && clipName.Length == 0 ? SourceKind.Auxiliary : SourceKind.Clip,
            SourceFormat = format,
            SourceIn = sourceIn,
            SourceFrames = sourceFrames,
            RecordIn = labels.RecordIn,
            RecordFrames = recordFrames,
            Speed = speed,
            SpeedOrigin = origin,
            EntryFrame = labels.Entry,
            Transition = item.Transition,
        };
    }

    private static string ClipName(EditEvent item, bool pairedBefore, EditEvent? pairedAfter)
    {
        if (item.Transition.Kind == TransitionKind.Cut || item.Transition.Kind == TransitionKind.KeyBackground)
        {
            // Below a two-line transition the outgoing side's name stands under the second line.
            return item.FirstValue(CommentKind.FromClipName) ?? pairedAfter?.FirstValue(CommentKind.FromClipName) ?? string.Empty;
        }

        string? incoming = item.Transition.Kind is TransitionKind.KeyIn or TransitionKind.KeyOut
            ? item.FirstValue(CommentKind.KeyClipName) ?? item.FirstValue(CommentKind.ToClipName)
            : item.FirstValue(CommentKind.ToClipName);
        return incoming ?? (pairedBefore ? string.Empty : item.FirstValue(CommentKind.FromClipName)) ?? string.Empty;
    }

    private static void AddTails(List<CutEvent> events)
    {
        Dictionary<string, int> lastOnTrack = new(StringComparer.OrdinalIgnoreCase);
        for (int i = 0; i < events.Count; i++)
        {
            CutEvent item = events[i];
            if (item.Transition.MixesTwoSources
                && lastOnTrack.TryGetValue(item.Tracks, out int outgoing)
                && events[outgoing].RecordOut == item.RecordIn)
            {
                events[outgoing] = events[outgoing] with
                {
                    TailRecordFrames = Math.Max(events[outgoing].TailRecordFrames, item.Transition.DurationFrames),
                };
            }

            lastOnTrack[item.Tracks] = i;
        }
    }
}
