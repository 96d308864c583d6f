using System.Text;
using Google.Protobuf;
using Google.Protobuf.Collections;
using Wire = PostPipeline.Contracts.Timecodes.V1;

namespace PostPipeline.Timecodes.Service.Labelling;

/// <summary>Packed rows of labels to labels and back: the part of a batch that costs time, kept free of objects.</summary>
internal static class LabelRows
{
    /// <summary>Labels of frame indexes, each of the format's own width.</summary>
    public static ByteString Write(TimecodeFormat format, long[] frameIndexes)
    {
        byte[] labels = new byte[frameIndexes.Length * format.LabelLength];
        LabelBatch.Format(format, frameIndexes, labels);
        return UnsafeByteOperations.UnsafeWrap(labels);
    }

    /// <summary>Labels of frame indexes, with spaces where an index is <see cref="LabelBatch.NoFrame"/>.</summary>
    public static ByteString WriteKnown(TimecodeFormat format, long[] frameIndexes)
    {
        int width = format.LabelLength;
        byte[] labels = new byte[frameIndexes.Length * width];
        for (int i = 0; i < frameIndexes.Length; i++)
        {
            Span<byte> row = labels.AsSpan(i * width, width);
            if (frameIndexes[i] == LabelBatch.NoFrame)
            {
                row.Fill((byte)' ');
            }
            else
            {
                Timecode.FromFrames(frameIndexes[i], format).TryFormat(row, out _);
            }
        }

        return UnsafeByteOperations.UnsafeWrap(labels);
    }

    /// <summary>Labels in super-frames and sub-frames.</summary>
    public static ByteString Write(SuperFrameFormat grouping, IEnumerable<long> frameIndexes) =>
        ByteString.CopyFromUtf8(string.Concat(frameIndexes.Select(index => grouping.Format(grouping.LabelOf(Timecode.FromFrames(index, grouping.Frames))))));

    /// <summary>Frame indexes of rows; an error for each row that is no label.</summary>
    public static long[] Read(
        TimecodeFormat format, ByteString rows, int width, bool snapForward, string field, RepeatedField<Wire.LabelError> errors)
    {
        int count = rows.Length / width;
        long[] indexes = new long[count];
        LabelError[] faults = new LabelError[count];
        if (LabelBatch.Parse(format, rows.Span, width, indexes, faults, Dropped(snapForward)) > 0)
        {
            for (int i = 0; i < count; i++)
            {
                if (!faults[i].IsNone)
                {
                    errors.Add(new Wire.LabelError { Index = i, Field = field, Description = faults[i].Describe(Row(rows, width, i), format) });
                }
            }
        }

        return indexes;
    }

    /// <summary>Frame indexes of rows in super-frames and sub-frames.</summary>
    public static long[] Read(
        SuperFrameFormat grouping, ByteString rows, int width, bool snapForward, string field, RepeatedField<Wire.LabelError> errors)
    {
        long[] indexes = new long[rows.Length / width];
        for (int i = 0; i < indexes.Length; i++)
        {
            if (grouping.TryParse(Row(rows, width, i), out SuperFrameLabel label, out string problem, Dropped(snapForward)))
            {
                indexes[i] = grouping.PlainLabelOf(label).FrameIndex;
            }
            else
            {
                indexes[i] = LabelBatch.NoFrame;
                errors.Add(new Wire.LabelError { Index = i, Field = field, Description = problem });
            }
        }

        return indexes;
    }

    private static DroppedLabels Dropped(bool snapForward) => snapForward ? DroppedLabels.SnapForward : DroppedLabels.Refuse;

    private static string Row(ByteString rows, int width, int index) => Encoding.UTF8.GetString(rows.Span.Slice(index * width, width)).TrimEnd(' ');
}
