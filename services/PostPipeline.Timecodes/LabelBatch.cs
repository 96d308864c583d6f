using PostPipeline.Quantities;
using PostPipeline.Timecodes.Labels;

namespace PostPipeline.Timecodes;

/// <summary>Whole arrays of labels, in fixed-width rows one after another, in the caller's memory.</summary>
public static class LabelBatch
{
    /// <summary>What stands for a label that could not be read.</summary>
    public const long NoFrame = -1;

    private const byte Padding = (byte)' ';

    /// <summary>Writes the labels of frame indexes.</summary>
    /// <param name="format">Rate and numbering.</param>
    /// <param name="frameIndexes">Any whole numbers; they wrap at 24 label hours.</param>
    /// <param name="labels">At least <see cref="TimecodeFormat.LabelLength"/> bytes a label.</param>
    /// <exception cref="ArgumentException">The labels do not fit.</exception>
    public static void Format(TimecodeFormat format, ReadOnlySpan<long> frameIndexes, Span<byte> labels)
    {
        int width = format.LabelLength;
        RequireLength((long)frameIndexes.Length * width, labels.Length, nameof(labels));
        for (int i = 0; i < frameIndexes.Length; i++)
        {
            LabelWriter.TryWrite(format, format.Wrap(frameIndexes[i]), labels.Slice(i * width, width));
        }
    }

    /// <summary>Writes the labels of frame indexes.</summary>
    /// <param name="format">Rate and numbering.</param>
    /// <param name="frameIndexes">Any whole numbers; they wrap at 24 label hours.</param>
    /// <param name="labels">At least <see cref="TimecodeFormat.LabelLength"/> characters a label.</param>
    /// <exception cref="ArgumentException">The labels do not fit.</exception>
    public static void Format(TimecodeFormat format, ReadOnlySpan<long> frameIndexes, Span<char> labels)
    {
        int width = format.LabelLength;
        RequireLength((long)frameIndexes.Length * width, labels.Length, nameof(labels));
        for (int i = 0; i < frameIndexes.Length; i++)
        {
            LabelWriter.TryWrite(format, format.Wrap(frameIndexes[i]), labels.Slice(i * width, width));
        }
    }

    /// <summary>Reads labels in rows of one width, shorter ones padded with spaces at the end.</summary>
    /// <param name="format">Rate and numbering.</param>
    /// <param name="labels">Whole rows of UTF-8.</param>
    /// <param name="width">Bytes a row, 1 or more.</param>
    /// <param name="frameIndexes">One frame index a row, <see cref="NoFrame"/> where the label has none.</param>
    /// <param name="errors">One error a row; none where there is an index.</param>
    /// <param name="dropped">What to do with labels that are left out.</param>
    /// <returns>How many rows have no frame index.</returns>
    /// <exception cref="ArgumentException">The bytes are not whole rows, or the results do not fit.</exception>
    public static int Parse(
        TimecodeFormat format,
        ReadOnlySpan<byte> labels,
        int width,
        Span<long> frameIndexes,
        Span<LabelError> errors,
        DroppedLabels dropped = DroppedLabels.Refuse)
    {
        Guard.InRange(width, 1, int.MaxValue);
        (int rows, int rest) = Math.DivRem(labels.Length, width);
        if (rest != 0)
        {
            throw new ArgumentException($"{labels.Length} bytes are not whole rows of {width}.", nameof(labels));
        }

        RequireLength(rows, frameIndexes.Length, nameof(frameIndexes));
        RequireLength(rows, errors.Length, nameof(errors));
        int failed = 0;
        for (int i = 0; i < rows; i++)
        {
            ReadOnlySpan<byte> row = labels.Slice(i * width, width).TrimEnd(Padding);
            errors[i] = LabelReader.TryRead(format, row, dropped, out long index);
            bool read = errors[i].IsNone;
            frameIndexes[i] = read ? index : NoFrame;
            failed += read ? 0 : 1;
        }

        return failed;
    }

    private static void RequireLength(long needed, int length, string name)
    {
        if (length < needed)
        {
            throw new ArgumentException($"There is room for {length}; {needed} are needed.", name);
        }
    }
}
