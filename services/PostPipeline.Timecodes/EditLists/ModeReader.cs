using System.Text;

namespace PostPipeline.Timecodes.EditLists;

/// <summary>Reads the line that says how the labels below it count.</summary>
internal static class ModeReader
{
    public static bool TryRead(ReadOnlySpan<byte> content, int line, EditListProblems problems, out FrameCodeMode stated)
    {
        ReadOnlySpan<byte> value = content["FCM:"u8.Length..].Trim(" \t"u8);
        if (Ascii.EqualsIgnoreCase(value, "NON-DROP FRAME"u8))
        {
            stated = FrameCodeMode.NonDrop;
        }
        else if (Ascii.EqualsIgnoreCase(value, "DROP FRAME"u8))
        {
            stated = FrameCodeMode.Drop;
        }
        else if (EditText.StartsWith(value, "NON"u8))
        {
            stated = FrameCodeMode.NonDrop;
            problems.Deviate(line, 6, $"'{EditText.Of(value)}' is not NON-DROP FRAME or DROP FRAME; read as non-drop");
        }
        else if (EditText.StartsWith(value, "DROP"u8))
        {
            stated = FrameCodeMode.Drop;
            problems.Deviate(line, 6, $"'{EditText.Of(value)}' is not NON-DROP FRAME or DROP FRAME; read as drop");
        }
        else
        {
            stated = FrameCodeMode.Unstated;
            problems.Add(line, 6, $"'{EditText.Of(value)}' is not a frame-code mode; allowed are NON-DROP FRAME and DROP FRAME");
            return false;
        }

        return true;
    }
}
