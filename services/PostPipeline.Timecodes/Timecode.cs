using PostPipeline.Quantities;
using PostPipeline.Timecodes.Labels;

namespace PostPipeline.Timecodes;

/// <summary>
/// One label of a day: a frame index in a format. The index is what is stored and reckoned with; the digits are
/// only how it is written, so arithmetic cannot land on a label that does not exist.
/// </summary>
/// <remarks>
/// Labels wrap at 24 label hours, as the counters that make them do. A label carries no date; a clip's date is
/// that of its start. <c>default</c> is label zero at one frame per second.
/// </remarks>
public readonly record struct Timecode : IComparable<Timecode>, ISpanFormattable, IUtf8SpanFormattable
{
    private static readonly TimecodeFormat OnePerSecond = TimecodeFormat.From(default);

    private readonly TimecodeFormat? format;

    private Timecode(TimecodeFormat format, long frameIndex)
    {
        this.format = format;
        FrameIndex = frameIndex;
    }

    /// <summary>Rate and numbering.</summary>
    public TimecodeFormat Format => format ?? OnePerSecond;

    /// <summary>Frames since label 00:00:00:00 of the label day, 0 up to <see cref="TimecodeFormat.FramesPerDay"/> − 1.</summary>
    public long FrameIndex { get; }

    /// <summary>The four numbers of the label.</summary>
    public LabelFields Fields => Format.FieldsOf(FrameIndex);

    /// <summary>Label hours, 0 to 23.</summary>
    public int Hours => Fields.Hours;

    /// <summary>Label minutes, 0 to 59.</summary>
    public int Minutes => Fields.Minutes;

    /// <summary>Label seconds, 0 to 59.</summary>
    public int Seconds => Fields.Seconds;

    /// <summary>Frame number, 0 up to one less than the nominal rate.</summary>
    public int Frames => Fields.Frames;

    /// <summary>True time since label zero, in seconds, exact.</summary>
    public Rational ElapsedSeconds => Format.Rate.SecondsFor(FrameIndex);

    /// <summary>The label so many frames later; it wraps at midnight.</summary>
    public static Timecode operator +(Timecode label, long frames) =>
        FromFrames(label.FrameIndex + label.Format.Wrap(frames), label.Format);

    /// <summary>The label so many frames earlier; it wraps at midnight.</summary>
    public static Timecode operator -(Timecode label, long frames) =>
        FromFrames(label.FrameIndex - label.Format.Wrap(frames), label.Format);

    /// <summary>Order in the label day; both must have the same format.</summary>
    public static bool operator <(Timecode a, Timecode b) => a.CompareTo(b) < 0;

    /// <summary>Order in the label day; both must have the same format.</summary>
    public static bool operator >(Timecode a, Timecode b) => a.CompareTo(b) > 0;

    /// <summary>Order in the label day; both must have the same format.</summary>
    public static bool operator <=(Timecode a, Timecode b) => a.CompareTo(b) <= 0;

    /// <summary>Order in the label day; both must have the same format.</summary>
    public static bool operator >=(Timecode a, Timecode b) => a.CompareTo(b) >= 0;

    /// <summary>The label of a frame.</summary>
    /// <param name="frames">Frames since label zero; any whole number, wrapped at 24 label hours.</param>
    /// <param name="format">Rate and numbering.</param>
    public static Timecode FromFrames(long frames, TimecodeFormat format) => new(format, format.Wrap(frames));

    /// <summary>The label with these four numbers.</summary>
    /// <param name="fields">Hours, minutes, seconds, frames.</param>
    /// <param name="format">Rate and numbering.</param>
    /// <param name="dropped">What to do with a label that is left out.</param>
    /// <exception cref="ArgumentOutOfRangeException">There is no such label; the message says why.</exception>
    public static Timecode FromFields(LabelFields fields, TimecodeFormat format, DroppedLabels dropped = DroppedLabels.Refuse)
    {
        LabelFault fault = format.TryGetFrameIndex(fields, dropped, out long index);
        string shown = $"{fields.Hours:00}:{fields.Minutes:00}:{fields.Seconds:00}:{fields.Frames:00}";
        return fault == LabelFault.None
            ? new(format, index)
            : throw new ArgumentOutOfRangeException(nameof(fields), shown, new LabelError(fault, 0).Describe(shown, format));
    }

    /// <summary>Reads a label such as <c>01:00:00:00</c>, <c>01:00:00;00</c> or <c>01:00:00:000</c>.</summary>
    /// <param name="text">The characters, nothing around them.</param>
    /// <param name="format">Rate and numbering; a label does not carry them.</param>
    /// <param name="label">The label, or <c>default</c>.</param>
    /// <param name="error">What is wrong and where.</param>
    /// <param name="dropped">What to do with a label that is left out.</param>
    public static bool TryParse(
        ReadOnlySpan<char> text, TimecodeFormat format, out Timecode label, out LabelError error, DroppedLabels dropped = DroppedLabels.Refuse)
    {
        error = LabelReader.TryRead(format, text, dropped, out long index);
        label = error.IsNone ? new(format, index) : default;
        return error.IsNone;
    }

    /// <summary>Reads a label in UTF-8.</summary>
    /// <param name="utf8">The bytes, nothing around them.</param>
    /// <param name="format">Rate and numbering; a label does not carry them.</param>
    /// <param name="label">The label, or <c>default</c>.</param>
    /// <param name="error">What is wrong and where.</param>
    /// <param name="dropped">What to do with a label that is left out.</param>
    public static bool TryParse(
        ReadOnlySpan<byte> utf8, TimecodeFormat format, out Timecode label, out LabelError error, DroppedLabels dropped = DroppedLabels.Refuse)
    {
        error = LabelReader.TryRead(format, utf8, dropped, out long index);
        label = error.IsNone ? new(format, index) : default;
        return error.IsNone;
    }

    /// <summary>Reads a label.</summary>
    /// <param name="text">The characters.</param>
    /// <param name="format">Rate and numbering.</param>
    /// <param name="dropped">What to do with a label that is left out.</param>
    /// <exception cref="FormatException">The text is no label; the message says why and what is allowed.</exception>
    public static Timecode Parse(ReadOnlySpan<char> text, TimecodeFormat format, DroppedLabels dropped = DroppedLabels.Refuse) =>
        TryParse(text, format, out Timecode label, out LabelError error, dropped)
            ? label
            : throw new FormatException(error.Describe(text, format));

    /// <summary>Frames from this label forward to another, across midnight where the other is earlier in the day.</summary>
    /// <param name="later">A label of the same format.</param>
    /// <returns>0 up to one less than the frames of a day.</returns>
    public long FramesUntil(Timecode later)
    {
        RequireSameFormat(later);
        return Format.Wrap(later.FrameIndex - FrameIndex);
    }

    /// <inheritdoc/>
    public int CompareTo(Timecode other)
    {
        RequireSameFormat(other);
        return FrameIndex.CompareTo(other.FrameIndex);
    }

    /// <summary>Writes the label into the caller's characters.</summary>
    /// <param name="destination">At least <see cref="TimecodeFormat.LabelLength"/> characters.</param>
    /// <param name="charsWritten">Characters written, 0 where they do not fit.</param>
    public bool TryFormat(Span<char> destination, out int charsWritten)
    {
        bool fits = LabelWriter.TryWrite(Format, FrameIndex, destination);
        charsWritten = fits ? Format.LabelLength : 0;
        return fits;
    }

    /// <summary>Writes the label into the caller's bytes, as UTF-8.</summary>
    /// <param name="utf8Destination">At least <see cref="TimecodeFormat.LabelLength"/> bytes.</param>
    /// <param name="bytesWritten">Bytes written, 0 where they do not fit.</param>
    public bool TryFormat(Span<byte> utf8Destination, out int bytesWritten)
    {
        bool fits = LabelWriter.TryWrite(Format, FrameIndex, utf8Destination);
        bytesWritten = fits ? Format.LabelLength : 0;
        return fits;
    }

    /// <inheritdoc/>
    bool ISpanFormattable.TryFormat(Span<char> destination, out int charsWritten, ReadOnlySpan<char> format, IFormatProvider? provider) =>
        TryFormat(destination, out charsWritten);

    /// <inheritdoc/>
    bool IUtf8SpanFormattable.TryFormat(Span<byte> utf8Destination, out int bytesWritten, ReadOnlySpan<char> format, IFormatProvider? provider) =>
        TryFormat(utf8Destination, out bytesWritten);

    /// <inheritdoc/>
    string IFormattable.ToString(string? format, IFormatProvider? formatProvider) => ToString();

    /// <summary>Equal when format and index are.</summary>
    /// <param name="other">Another label.</param>
    public bool Equals(Timecode other) => FrameIndex == other.FrameIndex && Format.Equals(other.Format);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(FrameIndex, Format.Rate);

    /// <summary><c>01:00:00:00</c>; <c>01:00:00;00</c> in drop-frame; three digits of frames above 100 frames a second.</summary>
    public override string ToString() =>
        string.Create(Format.LabelLength, this, static (span, label) => label.TryFormat(span, out _));

    private void RequireSameFormat(Timecode other)
    {
        if (!Format.Equals(other.Format))
        {
            throw new ArgumentException($"'{this}' at {Format} and '{other}' at {other.Format} are numbered differently; convert one of them first.");
        }
    }
}
