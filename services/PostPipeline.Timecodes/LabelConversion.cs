using PostPipeline.Quantities;

namespace PostPipeline.Timecodes;

/// <summary>
/// Carries labels from one format to another, relative to a pair of anchors: two labels that name the same instant.
/// </summary>
/// <remarks>
/// With label zero in both formats as anchors, 01:00:00:00 at 24000/1001 (3,603.6 s) is 01:00:03:15 at 25 by elapsed
/// time and 00:57:36:00 by frame count. Distances are taken forwards from the anchor, across midnight.
/// </remarks>
public sealed record LabelConversion
{
    /// <summary>Creates a conversion.</summary>
    /// <param name="fromAnchor">A label in the format to convert from.</param>
    /// <param name="toAnchor">The label of the same instant in the format to convert to.</param>
    /// <param name="basis">What stays the same.</param>
    /// <param name="rounding">Which frame is meant between two; only by elapsed time.</param>
    public LabelConversion(Timecode fromAnchor, Timecode toAnchor, ConversionBasis basis, FrameRounding rounding)
    {
        FromAnchor = fromAnchor;
        ToAnchor = toAnchor;
        Basis = basis;
        Rounding = rounding;
    }

    /// <summary>The anchor in the format to convert from.</summary>
    public Timecode FromAnchor { get; }

    /// <summary>The anchor in the format to convert to.</summary>
    public Timecode ToAnchor { get; }

    /// <summary>What stays the same.</summary>
    public ConversionBasis Basis { get; }

    /// <summary>Which frame is meant between two.</summary>
    public FrameRounding Rounding { get; }

    /// <summary>A conversion anchored at label zero in both formats.</summary>
    /// <param name="from">The format to convert from.</param>
    /// <param name="to">The format to convert to.</param>
    /// <param name="basis">What stays the same.</param>
    /// <param name="rounding">Which frame is meant between two.</param>
    public static LabelConversion FromLabelZero(TimecodeFormat from, TimecodeFormat to, ConversionBasis basis, FrameRounding rounding) =>
        new(Timecode.FromFrames(0, from), Timecode.FromFrames(0, to), basis, rounding);

    /// <summary>Converts a label.</summary>
    /// <param name="label">A label in the format of <see cref="FromAnchor"/>.</param>
    /// <exception cref="ArgumentException">The label has another format.</exception>
    public ConvertedLabel Convert(Timecode label)
    {
        long frames = FromAnchor.FramesUntil(label);
        if (Basis == ConversionBasis.FrameCount)
        {
            return new(ToAnchor + frames, frames, Rational.Zero);
        }

        (long converted, Rational rounding) = ConvertFrames(frames, FromAnchor.Format.Rate, ToAnchor.Format.Rate, Rounding);
        return new(ToAnchor + converted, converted, rounding);
    }

    /// <summary>A count of frames at one rate as a count at another that lasts as long.</summary>
    /// <param name="frames">A count of frames.</param>
    /// <param name="from">The rate of the count.</param>
    /// <param name="to">The rate to count at.</param>
    /// <param name="rounding">Which whole count is meant.</param>
    /// <returns>The count, and by how many seconds it starts after the exact instant.</returns>
    public static (long Frames, Rational RoundingSeconds) ConvertFrames(long frames, FrameRate from, FrameRate to, FrameRounding rounding)
    {
        Rational exact = frames * from.SecondsPerFrame * to.FramesPerSecond;
        long whole = rounding switch
        {
            FrameRounding.Down => exact.Floor(),
            FrameRounding.Up => exact.Ceiling(),
            _ => (exact + new Rational(1, 2)).Floor(),
        };
        return (whole, (whole - exact) * to.SecondsPerFrame);
    }
}
