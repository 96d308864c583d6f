using System.Collections.Immutable;
using System.Text;

namespace PostPipeline.Timecodes.EditLists;

/// <summary>Writes an edit list in the standard's layout (SMPTE ST 258; column positions from memory). What it writes reads back with the same meaning.</summary>
public static class EditListWriter
{
    /// <summary>The list as UTF-8 text with carriage return and line feed at each line's end.</summary>
    /// <param name="list">The list.</param>
    public static byte[] ToUtf8(EditList list) => Encoding.UTF8.GetBytes(ToText(list));

    /// <summary>The list as text.</summary>
    /// <param name="list">The list.</param>
    public static string ToText(EditList list)
    {
        StringBuilder text = new(256 + (list.Events.Length * 128));
        if (list.Title is not null)
        {
            Line(text, $"TITLE: {list.Title}");
        }

        FrameCodeMode mode = FrameCodeMode.Unstated;
        if (list.Events.Length > 0)
        {
            Mode(text, ref mode, list.Events[0].Mode);
        }

        Comments(text, list.Preamble);
        foreach (EditEvent item in list.Events)
        {
            Mode(text, ref mode, item.Mode);
            EditTransition transition = item.Transition;
            string letters = transition.Fade ? $"{transition.Letters} (F)" : transition.Letters;
            string duration = transition.Kind == TransitionKind.Cut ? "   " : $"{transition.DurationFrames:D3}";
            Line(text, $"{item.Number,-3}  {item.Reel,-8} {item.Tracks,-5} {letters,-4} {duration} {item.SourceIn} {item.SourceOut} {item.RecordIn} {item.RecordOut}");
            foreach (MotionEffect motion in item.Motions)
            {
                Line(text, $"M2   {motion.Reel,-8}       {Speed(motion)}                {motion.Entry}");
            }

            Comments(text, item.Comments);
        }

        return text.ToString();
    }

    private static void Mode(StringBuilder text, ref FrameCodeMode mode, FrameCodeMode wanted)
    {
        if (wanted != mode && wanted != FrameCodeMode.Unstated)
        {
            Line(text, wanted == FrameCodeMode.Drop ? "FCM: DROP FRAME" : "FCM: NON-DROP FRAME");
            mode = wanted;
        }
    }

    private static void Comments(StringBuilder text, ImmutableArray<EditComment> comments)
    {
        foreach (EditComment comment in comments)
        {
            Line(text, comment.Starred ? $"* {comment.Text}" : comment.Text);
        }
    }

    private static string Speed(MotionEffect motion)
    {
        // Speeds are read as finite decimals, so the division ends; a speed computed elsewhere is rounded to 10 places.
        decimal value = (decimal)motion.SourceFramesPerSecond.Numerator / motion.SourceFramesPerSecond.Denominator;
        string digits = Math.Abs(Math.Round(value, 17)).ToString("000.0################", System.Globalization.CultureInfo.InvariantCulture);
        return value < 0 ? $"-{digits}" : digits;
    }

    private static void Line(StringBuilder text, string line) => text.Append(line.AsSpan().TrimEnd(' ')).Append("\r\n");
}
