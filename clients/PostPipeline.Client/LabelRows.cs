using System.Text;
using Google.Protobuf;

namespace PostPipeline.Client;

/// <summary>Labels as the timecode service carries them: rows of one width, one after another, in one field.</summary>
public static class LabelRows
{
    /// <summary>The most labels of one call.</summary>
    public const int MostRows = 10_000;

    private const int UsualWidth = 11;
    private const int WidestRow = 32;

    /// <summary>Packs labels into rows as wide as the longest, shorter ones padded with spaces.</summary>
    /// <param name="labels">Labels. What is longer than 32 characters is no label whatever it holds: cut there, it is still refused.</param>
    /// <returns>The rows and their width in bytes.</returns>
    public static (ByteString Rows, int Width) Pack(IReadOnlyCollection<string> labels)
    {
        int width = Math.Clamp(labels.Select(label => label.Length).DefaultIfEmpty(0).Max(), UsualWidth, WidestRow);
        StringBuilder rows = new(labels.Count * width);
        foreach (string label in labels)
        {
            rows.Append(label.AsSpan(0, Math.Min(label.Length, width))).Append(' ', width - Math.Min(label.Length, width));
        }

        // One byte a character; what is not ASCII becomes a question mark, which is no label either.
        return (ByteString.CopyFrom(Encoding.ASCII.GetBytes(rows.ToString())), width);
    }

    /// <summary>The labels of rows, without their padding; an empty text where a row is blank.</summary>
    /// <param name="rows">Rows as the service answers them.</param>
    /// <param name="width">Their width in bytes.</param>
    public static IReadOnlyList<string> Unpack(ByteString rows, int width)
    {
        string[] labels = new string[width == 0 ? 0 : rows.Length / width];
        for (int i = 0; i < labels.Length; i++)
        {
            labels[i] = Encoding.ASCII.GetString(rows.Span.Slice(i * width, width)).TrimEnd(' ');
        }

        return labels;
    }
}
