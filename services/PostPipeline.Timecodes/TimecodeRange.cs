using PostPipeline.Quantities;

namespace PostPipeline.Timecodes;

/// <summary>
/// A half-open stretch of labels: a first label and a count of frames. The end is exclusive, as in an edit list,
/// so lengths add up and neighbours do not share a frame. A range may run across midnight.
/// </summary>
public readonly record struct TimecodeRange
{
    /// <summary>The most frames a range may hold, as for any take.</summary>
    public const long MaximumFrames = 1_000_000_000;

    private TimecodeRange(Timecode start, long frameCount)
    {
        Start = start;
        FrameCount = frameCount;
    }

    /// <summary>The first label.</summary>
    public Timecode Start { get; }

    /// <summary>Frames in the range, 0 or more.</summary>
    public long FrameCount { get; }

    /// <summary>The label after the last one; it wraps at midnight.</summary>
    public Timecode EndExclusive => Start + FrameCount;

    /// <summary>Whether the range holds no frame.</summary>
    public bool IsEmpty => FrameCount == 0;

    /// <summary>Whether the last frame lies in a later label day than the first.</summary>
    public bool CrossesMidnight => FrameCount > 0 && Start.FrameIndex + FrameCount > Start.Format.FramesPerDay;

    /// <summary>True duration at the format's rate, in seconds, exact.</summary>
    public Rational DurationSeconds => Start.Format.Rate.SecondsFor(FrameCount);

    /// <summary>Distinct labels in the range: a range longer than a label day repeats labels.</summary>
    public long DistinctLabels => Math.Min(FrameCount, Start.Format.FramesPerDay);

    /// <summary>A range from its first label and its length.</summary>
    /// <param name="start">The first label.</param>
    /// <param name="frameCount">0 to <see cref="MaximumFrames"/>.</param>
    /// <exception cref="ArgumentOutOfRangeException">The count lies outside that range.</exception>
    public static TimecodeRange FromStart(Timecode start, long frameCount) =>
        new(start, Guard.InRange(frameCount, 0, MaximumFrames));

    /// <summary>A range from its first label forward to an exclusive end, across midnight where the end is earlier in the day.</summary>
    /// <param name="start">The first label.</param>
    /// <param name="endExclusive">The label after the last one; equal to <paramref name="start"/> for an empty range.</param>
    /// <exception cref="ArgumentException">The labels have different formats.</exception>
    public static TimecodeRange FromStartAndEnd(Timecode start, Timecode endExclusive) => new(start, start.FramesUntil(endExclusive));

    /// <summary>Whether a label lies in the range.</summary>
    /// <param name="label">A label of the same format.</param>
    public bool Contains(Timecode label) => Start.FramesUntil(label) < FrameCount;

    /// <summary>Whether every label of another range lies in this one.</summary>
    /// <param name="other">A range of the same format.</param>
    public bool Contains(TimecodeRange other) =>
        other.IsEmpty || DistinctLabels == Start.Format.FramesPerDay || Start.FramesUntil(other.Start) + other.FrameCount <= FrameCount;

    /// <summary>How many distinct labels both ranges hold.</summary>
    /// <param name="other">A range of the same format.</param>
    public long OverlapLabels(TimecodeRange other)
    {
        (long atStart, long atEnd) = Overlaps(other);
        return atStart + atEnd;
    }

    /// <summary>
    /// The labels that both ranges hold, in the order of this range. Labels lie on a circle, so two long ranges may meet
    /// at both ends: there are none, one or two pieces.
    /// </summary>
    /// <param name="other">A range of the same format.</param>
    public IReadOnlyList<TimecodeRange> Intersect(TimecodeRange other)
    {
        (long atStart, long atEnd) = Overlaps(other);
        TimecodeRange first = new(Start, atStart);
        TimecodeRange second = new(Start + Start.FramesUntil(other.Start), atEnd);
        return (atStart > 0, atEnd > 0) switch
        {
            (true, true) => [first, second],
            (true, false) => [first],
            (false, true) => [second],
            _ => [],
        };
    }

    /// <summary>A part of the range.</summary>
    /// <param name="offset">Frames to skip, 0 to <see cref="FrameCount"/>.</param>
    /// <param name="frameCount">Frames to take; what is left must suffice.</param>
    /// <exception cref="ArgumentOutOfRangeException">The part does not lie inside.</exception>
    public TimecodeRange Slice(long offset, long frameCount)
    {
        Guard.InRange(offset, 0, FrameCount);
        return new(Start + offset, Guard.InRange(frameCount, 0, FrameCount - offset));
    }

    /// <summary><c>01:00:00:00 to 01:00:10:00 (240 frames)</c>; the end is exclusive.</summary>
    public override string ToString() => $"{Start} to {EndExclusive} ({FrameCount} frames)";

    // Seen from this start, the other range begins `ahead` frames on. Unrolled, it lies at [ahead, ahead + length) and
    // again one day earlier; the second copy is what reaches over this start from behind.
    private (long AtStart, long AtEnd) Overlaps(TimecodeRange other)
    {
        long day = Start.Format.FramesPerDay;
        long ahead = Start.FramesUntil(other.Start);
        long mine = DistinctLabels;
        long theirs = other.DistinctLabels;
        long atStart = Math.Clamp(ahead + theirs - day, 0, mine);
        long atEnd = Math.Max(0, Math.Min(mine, ahead + theirs) - ahead);
        return (atStart, atEnd);
    }
}
