using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using PostPipeline.Quantities;

namespace PostPipeline.Timecodes;

/// <summary>
/// High frame rates numbered in two steps: a label that counts super-frames at 24, 25 or 30 (or their 1000/1001
/// relatives), and the frame inside the super-frame (SMPTE ST 12-3). The same frame also has its plain label, so each
/// form is reached from the other without loss.
/// </summary>
public sealed record SuperFrameFormat
{
    // In the order in which a grouping is chosen where the caller does not say: 120 is 30 × 4 rather than 24 × 5.
    private static readonly int[] SuperFrameRates = [30, 25, 24];

    private SuperFrameFormat(TimecodeFormat frames, TimecodeFormat superFrames, int framesPerSuperFrame)
    {
        Frames = frames;
        SuperFrames = superFrames;
        FramesPerSuperFrame = framesPerSuperFrame;
    }

    /// <summary>The format that counts every frame, for example 120000/1001 drop-frame.</summary>
    public TimecodeFormat Frames { get; }

    /// <summary>The format that counts super-frames, for example 30000/1001 drop-frame.</summary>
    public TimecodeFormat SuperFrames { get; }

    /// <summary>Frames in one super-frame, 2 or more.</summary>
    public int FramesPerSuperFrame { get; }

    /// <summary>Characters in <c>HH:MM:SS:FF.S</c>.</summary>
    public int LabelLength => SuperFrames.LabelLength + 1 + SubFrameDigits;

    private int SubFrameDigits => (FramesPerSuperFrame - 1).ToString().Length;

    /// <summary>Groups frames into super-frames.</summary>
    /// <param name="frames">The format that counts every frame.</param>
    /// <param name="framesPerSuperFrame">Frames in a super-frame, or 0 to take the first of 30, 25 and 24 that divides the nominal rate.</param>
    /// <param name="format">The grouping, or null.</param>
    /// <param name="problem">Why there is none, or an empty text.</param>
    public static bool TryCreate(TimecodeFormat frames, int framesPerSuperFrame, [NotNullWhen(true)] out SuperFrameFormat? format, out string problem)
    {
        format = null;
        if (framesPerSuperFrame == 0)
        {
            int found = Array.Find(SuperFrameRates, rate => frames.Nominal % rate == 0 && frames.Nominal > rate);
            framesPerSuperFrame = found == 0 ? 0 : frames.Nominal / found;
        }

        if (framesPerSuperFrame < 2 || frames.Nominal % framesPerSuperFrame != 0
            || !SuperFrameRates.Contains(frames.Nominal / framesPerSuperFrame))
        {
            problem = $"{frames.Rate} frames per second cannot be grouped by {framesPerSuperFrame}; a super-frame holds 2 or more frames, and super-frames run at 24, 25 or 30 (SMPTE ST 12-3)";
            return false;
        }

        FrameRate superRate = FrameRate.From(frames.Rate.FramesPerSecond / framesPerSuperFrame);
        if (!TimecodeFormat.TryCreate(superRate, frames.DropFrame, out TimecodeFormat? superFrames, out problem))
        {
            return false;
        }

        format = new(frames, superFrames, framesPerSuperFrame);
        return true;
    }

    /// <summary>Groups frames into super-frames.</summary>
    /// <param name="frames">The format that counts every frame.</param>
    /// <param name="framesPerSuperFrame">Frames in a super-frame, or 0 for the usual grouping.</param>
    /// <exception cref="ArgumentOutOfRangeException">There is no such grouping; the message says why.</exception>
    public static SuperFrameFormat From(TimecodeFormat frames, int framesPerSuperFrame = 0) =>
        TryCreate(frames, framesPerSuperFrame, out SuperFrameFormat? format, out string problem)
            ? format
            : throw new ArgumentOutOfRangeException(nameof(framesPerSuperFrame), framesPerSuperFrame, problem);

    /// <summary>The two-step label of a frame.</summary>
    /// <param name="label">A label that counts every frame, of the format <see cref="Frames"/>.</param>
    /// <exception cref="ArgumentException">The label has another format.</exception>
    public SuperFrameLabel LabelOf(Timecode label)
    {
        if (!label.Format.Equals(Frames))
        {
            throw new ArgumentException($"'{label}' counts {label.Format}, not {Frames} frames per second.", nameof(label));
        }

        (long superFrame, long subFrame) = Math.DivRem(label.FrameIndex, FramesPerSuperFrame);
        return new(Timecode.FromFrames(superFrame, SuperFrames), (int)subFrame);
    }

    /// <summary>The plain label of a two-step label.</summary>
    /// <param name="label">A label of this grouping.</param>
    /// <exception cref="ArgumentException">The label has another format.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The sub-frame is not inside the super-frame.</exception>
    public Timecode PlainLabelOf(SuperFrameLabel label)
    {
        if (!label.SuperFrame.Format.Equals(SuperFrames))
        {
            throw new ArgumentException($"'{label}' counts {label.SuperFrame.Format}, not {SuperFrames} super-frames per second.", nameof(label));
        }

        Guard.InRange(label.SubFrame, 0, FramesPerSuperFrame - 1);
        return Timecode.FromFrames((label.SuperFrame.FrameIndex * FramesPerSuperFrame) + label.SubFrame, Frames);
    }

    /// <summary>Writes <c>01:00:00:05.3</c>; the notation of the sub-frame is ours, counted from 0.</summary>
    /// <param name="label">A label of this grouping.</param>
    public string Format(SuperFrameLabel label) => $"{label.SuperFrame}.{label.SubFrame.ToString().PadLeft(SubFrameDigits, '0')}";

    /// <summary>Reads <c>01:00:00:05.3</c>.</summary>
    /// <param name="text">The characters, nothing around them.</param>
    /// <param name="label">The label, or <c>default</c>.</param>
    /// <param name="problem">What is wrong and what is allowed, or an empty text.</param>
    /// <param name="dropped">What to do with a super-frame label that is left out.</param>
    public bool TryParse(ReadOnlySpan<char> text, out SuperFrameLabel label, out string problem, DroppedLabels dropped = DroppedLabels.Refuse)
    {
        label = default;
        int point = text.LastIndexOf('.');
        ReadOnlySpan<char> subFrame = point < 0 ? [] : text[(point + 1)..];
        if (point < 10 || !int.TryParse(subFrame, NumberStyles.None, CultureInfo.InvariantCulture, out int sub) || sub >= FramesPerSuperFrame)
        {
            problem = $"'{text}' has no frame inside the super-frame; write HH:MM:SS:FF.S with S from 0 to {FramesPerSuperFrame - 1}";
            return false;
        }

        bool read = Timecode.TryParse(text[..point], SuperFrames, out Timecode superFrame, out LabelError error, dropped);
        problem = read ? string.Empty : error.Describe(text[..point], SuperFrames);
        label = read ? new(superFrame, sub) : default;
        return read;
    }
}
