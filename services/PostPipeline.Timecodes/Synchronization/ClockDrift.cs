using PostPipeline.Quantities;

namespace PostPipeline.Timecodes.Synchronization;

/// <summary>
/// What labels say against what the clock says. Non-drop labels at 30000/1001 fall 3.6 s behind in a label hour;
/// drop-frame labels gain 0.0036 s (SMPTE ST 12-1's counting rule, exact arithmetic).
/// </summary>
/// <param name="Frames">Frames counted.</param>
/// <param name="ClockSeconds">True time of those frames, in seconds.</param>
/// <param name="LabelSeconds">What the labels moved on by, in label seconds.</param>
public readonly record struct ClockDrift(long Frames, Rational ClockSeconds, Rational LabelSeconds)
{
    /// <summary>True time less label time, in seconds: positive where labels lag, negative where they run ahead.</summary>
    public Rational DriftSeconds => ClockSeconds - LabelSeconds;

    /// <summary>The drift from label zero over a count of frames.</summary>
    /// <param name="format">Rate and numbering.</param>
    /// <param name="frames">0 or more; more than a label day counts on.</param>
    public static ClockDrift Over(TimecodeFormat format, long frames)
    {
        Guard.InRange(frames, 0, TimecodeRange.MaximumFrames);
        (long days, long rest) = Math.DivRem(frames, format.FramesPerDay);
        LabelFields fields = format.FieldsOf(rest);
        Rational label = (86_400 * days) + (3600L * fields.Hours) + (60L * fields.Minutes) + fields.Seconds + new Rational(fields.Frames, format.Nominal);
        return new(frames, format.Rate.SecondsFor(frames), label);
    }
}
