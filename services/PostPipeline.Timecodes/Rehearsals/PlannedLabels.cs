using PostPipeline.Quantities;
using PostPipeline.Timecodes.Generators;
using PostPipeline.Timecodes.OffSpeed;

namespace PostPipeline.Timecodes.Rehearsals;

/// <summary>The labels that a take gets under one behaviour.</summary>
internal readonly struct PlannedLabels
{
    private readonly Rational labelsPerFrame;

    public PlannedLabels(RehearsalTake take, RehearsalCamera camera, OffSpeedLabelling behaviour)
    {
        Format = camera.Base;
        bool offSpeed = take.SensorRate != camera.Base.Rate;
        OffSpeed = offSpeed;
        HasLabels = !offSpeed || behaviour != OffSpeedLabelling.None;
        bool ownCounter = camera.Run == TimecodeRun.Record || (offSpeed && behaviour == OffSpeedLabelling.RecordRunForced);
        Start = camera.Base.Wrap(ownCounter ? take.RecordRunStart : ClockFrame(take.StartSeconds, camera.Base));
        labelsPerFrame = offSpeed && behaviour == OffSpeedLabelling.FollowsClock
            ? camera.Base.Rate.FramesPerSecond / take.SensorRate.FramesPerSecond
            : Rational.One;
        Span = Offset(take.Frames - 1) + 1;
    }

    public TimecodeFormat Format { get; }

    public bool OffSpeed { get; }

    public bool HasLabels { get; }

    /// <summary>Frame index of the first label.</summary>
    public long Start { get; }

    /// <summary>Labels from the first frame's to the last frame's.</summary>
    public long Span { get; }

    /// <summary>Labels from the first frame's to a frame's.</summary>
    public long Offset(long frame) => labelsPerFrame == Rational.One ? frame : (frame * labelsPerFrame).Floor();

    // A clock set at midnight counts true frames; the plan's seconds are estimates, so a double is exact enough here.
    private static long ClockFrame(double seconds, TimecodeFormat format) =>
        (long)Math.Floor(seconds * format.Rate.Numerator / format.Rate.Denominator);
}
