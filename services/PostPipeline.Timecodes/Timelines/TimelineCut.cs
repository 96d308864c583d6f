using System.Collections.Immutable;
using PostPipeline.Quantities;
using PostPipeline.Timecodes.Conforming;
using PostPipeline.Timecodes.EditLists;

namespace PostPipeline.Timecodes.Timelines;

/// <summary>Turns a flattened timeline into a cut that can be matched.</summary>
public static class TimelineCut
{
    /// <summary>
    /// The clips of a timeline as events. A frame belongs to the item in which it begins, so that items which follow each
    /// other still do; a transition becomes the overlap that an edit list would write.
    /// </summary>
    /// <param name="flat">The flattened timeline.</param>
    /// <param name="dropFrame">Whether labels count drop-frame; the format itself does not say.</param>
    /// <exception cref="ArgumentOutOfRangeException">Drop-frame numbering does not exist at the timeline's rate.</exception>
    public static Cut From(FlatTimeline flat, bool dropFrame = false)
    {
        TimecodeFormat record = TimecodeFormat.From(flat.Rate, dropFrame);
        List<CutEvent> events = [];
        Dictionary<(string Track, Rational End), int> endingAt = [];
        Dictionary<(string Track, Rational Start), int> startingAt = [];
        foreach (FlatItem item in flat.Items)
        {
            if (item.IsGap)
            {
                continue;
            }

            startingAt[(item.Track, item.RecordStartSeconds)] = events.Count;
            endingAt[(item.Track, item.RecordStartSeconds + item.RecordSeconds)] = events.Count;
            events.Add(Event(item, flat, record, dropFrame, events.Count));
        }

        foreach (FlatTransition transition in flat.Transitions)
        {
            Overlap(events, transition, flat.Rate, startingAt, endingAt);
        }

        return new(flat.Name, record, [.. events]);
    }

    private static CutEvent Event(FlatItem item, FlatTimeline flat, TimecodeFormat record, bool dropFrame, int place)
    {
        FrameRate rate = flat.Rate;
        long start = FirstFrameAt(flat.GlobalStartSeconds + item.RecordStartSeconds, rate);
        long end = FirstFrameAt(flat.GlobalStartSeconds + item.RecordStartSeconds + item.RecordSeconds, rate);
        TimecodeFormat source = dropFrame && TimecodeFormat.AllowsDropFrame(item.SourceRate) ? TimecodeFormat.From(item.SourceRate, dropFrame: true) : TimecodeFormat.From(item.SourceRate);

        // Media frames per record frame: warps count seconds, and the media may have another rate.
        Rational speed = item.Speed * item.SourceRate.FramesPerSecond / rate.FramesPerSecond;
        Rational magnitude = speed.Sign < 0 ? -speed : speed;
        long sourceFrames = speed.Sign == 0 ? 1 : (magnitude * (end - start)).Ceiling();
        long sourceIn = Frames(item.SourceStartSeconds, item.SourceRate);
        return new()
        {
            Number = $"{place + 1:D3}",
            Tracks = item.Track,
            ClipName = item.MediaName,
            SourceFormat = source,
            SourceIn = source.Wrap(sourceIn),
            SourceFrames = sourceFrames,
            RecordIn = record.Wrap(start),
            RecordFrames = end - start,
            Speed = speed,
            SpeedOrigin = item.IsWarped || speed != Rational.One ? SpeedOrigin.Stated : SpeedOrigin.NormalSpeed,
        };
    }

    private static void Overlap(
        List<CutEvent> events,
        FlatTransition transition,
        FrameRate rate,
        Dictionary<(string Track, Rational Start), int> startingAt,
        Dictionary<(string Track, Rational End), int> endingAt)
    {
        long before = Frames(transition.InSeconds, rate);
        long behind = Frames(transition.OutSeconds, rate);
        bool outgoingIsClip = endingAt.TryGetValue((transition.Track, transition.CutSeconds), out int outgoing);
        if (outgoingIsClip)
        {
            // The outgoing event ends where the transition begins; from there on its pictures are the tail.
            long shortened = Math.Min(before, events[outgoing].RecordFrames);
            events[outgoing] = events[outgoing] with
            {
                RecordFrames = events[outgoing].RecordFrames - shortened,
                SourceFrames = Math.Max(0, events[outgoing].SourceFrames - Scaled(shortened, events[outgoing].Speed)),
                TailRecordFrames = shortened + behind,
            };
        }

        if (startingAt.TryGetValue((transition.Track, transition.CutSeconds), out int incoming))
        {
            CutEvent item = events[incoming];
            long earlier = outgoingIsClip ? before : 0;
            events[incoming] = item with
            {
                RecordIn = Math.Max(0, item.RecordIn - earlier),
                RecordFrames = item.RecordFrames + Math.Min(earlier, item.RecordIn),
                SourceIn = item.SourceFormat.Wrap(item.SourceIn - Scaled(earlier, item.Speed)),
                SourceFrames = item.SourceFrames + Scaled(earlier, item.Speed),
                Transition = new(TransitionKind.Dissolve, 0, (int)Math.Min(before + behind, EditTransition.MaximumDurationFrames), false),
            };
        }
    }

    private static long Scaled(long recordFrames, Rational speed) => (recordFrames * (speed.Sign < 0 ? -speed : speed)).Ceiling();

    // An item shows every frame that begins while it lasts. Times are doubles in these files, so a millionth of a frame is none.
    private static long FirstFrameAt(Rational seconds, FrameRate rate) => ((seconds * rate.FramesPerSecond) - new Rational(1, 1_000_000)).Ceiling();

    private static long Frames(Rational seconds, FrameRate rate) => (seconds * rate.FramesPerSecond).RoundHalfAwayFromZero();
}
