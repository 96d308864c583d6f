using Google.Protobuf;
using PostPipeline.Hosting.Validation;
using PostPipeline.Quantities;
using PostPipeline.Timecodes.OffSpeed;
using Types = PostPipeline.Contracts.Types.V1;
using Wire = PostPipeline.Contracts.Timecodes.V1;

namespace PostPipeline.Timecodes.Service.Labelling;

/// <summary>Reads the parts of requests that many methods share, and collects what is wrong with them.</summary>
/// <param name="violations">Where violations go.</param>
internal sealed class LabelReader(Violations violations)
{
    /// <summary>The most items of a batch.</summary>
    public const int MostItems = 10_000;

    private const int NarrowestRow = 10;
    private const int WidestRow = 32;

    /// <summary>A frame rate, or null where a violation was recorded.</summary>
    public FrameRate? Rate(FieldPath field, Types.FrameRate? rate) =>
        violations.Present(field, rate) && violations.InRange(field["denominator"], rate.Denominator, 1, long.MaxValue)
        && violations.InRange(field["numerator"], rate.Numerator, 1, long.MaxValue)
            ? violations.Check<FrameRate?>(field, () => FrameRate.From(rate.Numerator, rate.Denominator))
            : null;

    /// <summary>A fraction, or null where a violation was recorded.</summary>
    public Rational? Fraction(FieldPath field, Types.Rational? fraction) =>
        violations.Present(field, fraction) && violations.InRange(field["denominator"], fraction.Denominator, 1, long.MaxValue)
            ? violations.Check<Rational?>(field, () => new Rational(fraction.Numerator, fraction.Denominator))
            : null;

    /// <summary>Rate and numbering, or null where a violation was recorded.</summary>
    public TimecodeFormat? Format(FieldPath field, Wire.LabelFormat? format)
    {
        if (!violations.Present(field, format) || Rate(field["rate"], format.Rate) is not { } rate)
        {
            return null;
        }

        bool exists = TimecodeFormat.TryCreate(rate, format.DropFrame, out TimecodeFormat? made, out string problem);
        violations.Require(field["drop_frame"], exists, $"is true: {problem}");
        return made;
    }

    /// <summary>A label as text, or null where a violation was recorded.</summary>
    /// <param name="field">The field.</param>
    /// <param name="text">The text; empty for label zero.</param>
    /// <param name="format">Rate and numbering; null where they could not be read, which is recorded already.</param>
    public Timecode? LabelOrZero(FieldPath field, string text, TimecodeFormat? format) =>
        format is null ? null : text.Length == 0 ? Timecode.FromFrames(0, format) : Label(field, text, format);

    /// <summary>A label as text, or null where a violation was recorded.</summary>
    public Timecode? Label(FieldPath field, string text, TimecodeFormat? format)
    {
        if (format is null)
        {
            return null;
        }

        bool read = Timecode.TryParse(text, format, out Timecode label, out LabelError error);
        violations.Require(field, read, $"is no label: {error.Describe(text, format)}");
        return read ? label : null;
    }

    /// <summary>A span of labels, or null where a violation was recorded.</summary>
    public TimecodeRange? Span(FieldPath field, Wire.LabelSpan? span, TimecodeFormat? format)
    {
        if (!violations.Present(field, span))
        {
            return null;
        }

        bool counts = violations.InRange(field["frame_count"], span.FrameCount, 0, TimecodeRange.MaximumFrames);
        return Label(field["start_label"], span.StartLabel, format) is { } start && counts ? TimecodeRange.FromStart(start, span.FrameCount) : null;
    }

    /// <summary>Checks the width and number of rows of labels.</summary>
    /// <returns>How many rows there are; 0 where a violation was recorded.</returns>
    public int Rows(FieldPath field, ByteString rows, int width)
    {
        if (!violations.InRange("label_width", width, NarrowestRow, WidestRow))
        {
            return 0;
        }

        return violations.Require(field, rows.Length % width == 0, $"has {rows.Length} bytes; allowed are whole rows of label_width = {width}")
            && violations.Require(field, rows.Length / width <= MostItems, $"has {rows.Length / width} labels; allowed is 0 to {MostItems}")
            ? rows.Length / width
            : 0;
    }

    /// <summary>How frames are grouped into super-frames; null where they are not, or where a violation was recorded.</summary>
    public SuperFrameFormat? Grouping(bool asked, int framesPerSuperFrame, TimecodeFormat? format)
    {
        if (!asked || format is null)
        {
            return null;
        }

        bool exists = SuperFrameFormat.TryCreate(format, framesPerSuperFrame, out SuperFrameFormat? grouping, out string problem);
        violations.Require("frames_per_super_frame", exists, $"is {framesPerSuperFrame}: {problem}");
        return grouping;
    }

    /// <summary>A labelling behaviour; unspecified is unknown.</summary>
    public OffSpeedLabelling Labelling(FieldPath field, Wire.OffSpeedLabelling labelling)
    {
        violations.Require(field, Enum.IsDefined(labelling), $"is {(int)labelling}; allowed is one of {string.Join(", ", Enum.GetNames<Wire.OffSpeedLabelling>())}");
        return labelling switch
        {
            Wire.OffSpeedLabelling.PerFrame => OffSpeedLabelling.PerFrame,
            Wire.OffSpeedLabelling.FollowsClock => OffSpeedLabelling.FollowsClock,
            Wire.OffSpeedLabelling.RecordRunForced => OffSpeedLabelling.RecordRunForced,
            Wire.OffSpeedLabelling.None => OffSpeedLabelling.None,
            _ => OffSpeedLabelling.Unknown,
        };
    }
}
