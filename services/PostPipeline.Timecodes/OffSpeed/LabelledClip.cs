using PostPipeline.Quantities;

namespace PostPipeline.Timecodes.OffSpeed;

/// <summary>The labels of one recorded clip under one labelling behaviour.</summary>
/// <remarks>
/// Frame i, from 0, has the label start + i where there is a label a frame, and start + ⌊i·base/sensor⌋ where labels
/// follow the clock; then one label may stand for several frames, or a frame's successor may skip labels.
/// </remarks>
public sealed record LabelledClip
{
    private LabelledClip(ClipRates rates, OffSpeedLabelling labelling, Timecode start, long frameCount)
    {
        Rates = rates;
        Labelling = labelling;
        FrameCount = frameCount;
        Start = start;
    }

    /// <summary>Sensor, base and playback.</summary>
    public ClipRates Rates { get; }

    /// <summary>How the frames were labelled; never unknown.</summary>
    public OffSpeedLabelling Labelling { get; }

    /// <summary>Frames recorded.</summary>
    public long FrameCount { get; }

    /// <summary>The label of the first frame; meaningless where there are no labels.</summary>
    public Timecode Start { get; }

    /// <summary>The labels from the first frame's to the last frame's, or null where there are none.</summary>
    public TimecodeRange? Labels => Labelling == OffSpeedLabelling.None
        ? null
        : TimecodeRange.FromStart(Start, FrameCount == 0 ? 0 : LabelOffset(FrameCount - 1) + 1);

    /// <summary>How long the recording took, in seconds.</summary>
    public Rational RecordedSeconds => Rates.Sensor.SecondsFor(FrameCount);

    /// <summary>How long the clip plays, in seconds.</summary>
    public Rational ScreenSeconds => Rates.Playback.SecondsFor(FrameCount);

    /// <summary>The time that the labels seem to span at the base rate, in seconds; 0 where there are none.</summary>
    public Rational LabelSpanSeconds => Labels?.DurationSeconds ?? Rational.Zero;

    /// <summary>By how much the labels at the end run ahead of the clock, in seconds; negative where they lag, 0 where there are none.</summary>
    public Rational AheadOfClockSeconds => Labels is null ? Rational.Zero : LabelSpanSeconds - RecordedSeconds;

    /// <summary>Most frames that share one label: 1 where a label names a frame, 0 where there are none.</summary>
    public long MostFramesPerLabel => Labelling switch
    {
        OffSpeedLabelling.None => 0,
        OffSpeedLabelling.FollowsClock => Math.Min(FrameCount, Math.Max(1, (Rates.Sensor.FramesPerSecond / Rates.Base.Rate.FramesPerSecond).Ceiling())),
        _ => Math.Min(FrameCount, 1),
    };

    /// <summary>Labels inside the span that no frame carries.</summary>
    public long SkippedLabels => Labelling == OffSpeedLabelling.FollowsClock && Labels is { } labels ? Math.Max(0, labels.FrameCount - FrameCount) : 0;

    /// <summary>Whether a label alone finds one frame of the clip.</summary>
    public bool LabelsNameFrames => MostFramesPerLabel == 1 && !(Labels?.FrameCount > Rates.Base.FramesPerDay);

    /// <summary>Labels a clip.</summary>
    /// <param name="rates">Sensor, base and playback.</param>
    /// <param name="labelling">A known behaviour.</param>
    /// <param name="start">The label of the first frame, of the format of the base.</param>
    /// <param name="frameCount">Frames recorded, 0 to <see cref="TimecodeRange.MaximumFrames"/>.</param>
    /// <exception cref="ArgumentOutOfRangeException">The behaviour is unknown, or the count out of range.</exception>
    /// <exception cref="ArgumentException">The label has another format.</exception>
    public static LabelledClip From(ClipRates rates, OffSpeedLabelling labelling, Timecode start, long frameCount)
    {
        if (labelling == OffSpeedLabelling.Unknown)
        {
            throw new ArgumentOutOfRangeException(nameof(labelling), labelling, "An unknown labelling has no labels; try every possible one.");
        }

        if (!start.Format.Equals(rates.Base))
        {
            throw new ArgumentException($"The first label '{start}' counts {start.Format}, not the base {rates.Base}.", nameof(start));
        }

        Guard.InRange(frameCount, 0, TimecodeRange.MaximumFrames);
        LabelledClip clip = new(rates, labelling, start, frameCount);
        _ = clip.Labels;
        return clip;
    }

    /// <summary>
    /// The labels under every behaviour that is possible: one for a known behaviour, all four for an unknown one, and one
    /// at base speed, where the behaviours do not differ.
    /// </summary>
    /// <param name="rates">Sensor, base and playback.</param>
    /// <param name="labelling">What is known of the behaviour.</param>
    /// <param name="clockStart">The label that the time of day gives the first frame.</param>
    /// <param name="recordRunStart">The label at which the camera's own counter stands.</param>
    /// <param name="frameCount">Frames recorded.</param>
    public static IReadOnlyList<LabelledClip> Possible(
        ClipRates rates, OffSpeedLabelling labelling, Timecode clockStart, Timecode recordRunStart, long frameCount)
    {
        if (!rates.IsOffSpeed)
        {
            return [From(rates, OffSpeedLabelling.PerFrame, clockStart, frameCount)];
        }

        OffSpeedLabelling[] behaviours = labelling == OffSpeedLabelling.Unknown
            ? [OffSpeedLabelling.PerFrame, OffSpeedLabelling.FollowsClock, OffSpeedLabelling.RecordRunForced, OffSpeedLabelling.None]
            : [labelling];
        return [.. behaviours.Select(b => From(rates, b, b == OffSpeedLabelling.RecordRunForced ? recordRunStart : clockStart, frameCount))];
    }

    /// <summary>The label of a frame, or null where there are none.</summary>
    /// <param name="frame">The frame of the clip, 0 up to <see cref="FrameCount"/> − 1.</param>
    public Timecode? LabelOfFrame(long frame)
    {
        Guard.InRange(frame, 0, FrameCount - 1);
        return Labelling == OffSpeedLabelling.None ? null : Start + LabelOffset(frame);
    }

    /// <summary>The frames that carry a label: from, and how many; none where no frame does.</summary>
    /// <param name="label">A label of the base format.</param>
    public (long FirstFrame, long Count) FramesOfLabel(Timecode label)
    {
        if (Labels is not { } labels || !labels.Contains(label))
        {
            return (0, 0);
        }

        long offset = Start.FramesUntil(label);
        long first = FirstFrameAt(offset);
        return (first, Math.Max(0, Math.Min(FrameCount, FirstFrameAt(offset + 1)) - first));
    }

    private long LabelOffset(long frame) => Labelling == OffSpeedLabelling.FollowsClock
        ? (frame * Rates.Sensor.SecondsPerFrame * Rates.Base.Rate.FramesPerSecond).Floor()
        : frame;

    // ⌊i·base/sensor⌋ ≥ offset  ⇔  i ≥ offset·sensor/base.
    private long FirstFrameAt(long offset) => Labelling == OffSpeedLabelling.FollowsClock
        ? (offset * Rates.Base.Rate.SecondsPerFrame * Rates.Sensor.FramesPerSecond).Ceiling()
        : offset;
}
