using System.Runtime.InteropServices;

namespace PostPipeline.Timecodes.EditLists;

/// <summary>
/// A time label as an edit list writes it, before anybody has said at which frame rate it counts. The list
/// states no more than drop or non-drop; which frame a label names is decided when a rate is brought to it.
/// </summary>
[StructLayout(LayoutKind.Auto)]
public readonly record struct EditLabel
{
    /// <summary>Creates a label from its parts.</summary>
    /// <param name="hours">0 to 23.</param>
    /// <param name="minutes">0 to 59.</param>
    /// <param name="seconds">0 to 59.</param>
    /// <param name="frames">0 to 999.</param>
    /// <param name="semicolon">Whether the separator before the frames is the semicolon of drop-frame labels.</param>
    /// <exception cref="ArgumentOutOfRangeException">A part lies outside its range.</exception>
    public EditLabel(int hours, int minutes, int seconds, int frames, bool semicolon = false)
    {
        Hours = (byte)Quantities.Guard.InRange(hours, 0, 23);
        Minutes = (byte)Quantities.Guard.InRange(minutes, 0, 59);
        Seconds = (byte)Quantities.Guard.InRange(seconds, 0, 59);
        Frames = (short)Quantities.Guard.InRange(frames, 0, 999);
        Semicolon = semicolon;
    }

    /// <summary>0 to 23.</summary>
    public byte Hours { get; }

    /// <summary>0 to 59.</summary>
    public byte Minutes { get; }

    /// <summary>0 to 59.</summary>
    public byte Seconds { get; }

    /// <summary>0 to 999; below the nominal rate once a rate is known.</summary>
    public short Frames { get; }

    /// <summary>Whether the separator before the frames is a semicolon.</summary>
    public bool Semicolon { get; }

    /// <summary>
    /// Reads a label. Colons, semicolons, full stops and commas are taken as separators; parts are one to
    /// three digits long.
    /// </summary>
    /// <param name="text">The label and nothing else.</param>
    /// <param name="label">The label, or <c>default</c>.</param>
    /// <param name="usual">Whether it is written as <c>00:00:00:00</c> or <c>00:00:00;00</c>.</param>
    /// <returns>Whether the text is a label whose parts are in range.</returns>
    public static bool TryParse(ReadOnlySpan<byte> text, out EditLabel label, out bool usual)
    {
        usual = TryParseUsual(text, out label);
        if (usual)
        {
            return true;
        }

        Span<int> parts = stackalloc int[4];
        Span<byte> separators = stackalloc byte[3];
        Span<int> widths = stackalloc int[4];
        int part = 0;
        foreach (byte c in text)
        {
            if (c is >= (byte)'0' and <= (byte)'9')
            {
                if (++widths[part] > 3)
                {
                    return false;
                }

                parts[part] = (parts[part] * 10) + (c - '0');
            }
            else if (c is (byte)':' or (byte)';' or (byte)'.' or (byte)',' && part < 3 && widths[part] > 0)
            {
                separators[part++] = c;
            }
            else
            {
                return false;
            }
        }

        if (part != 3 || widths[3] == 0 || parts[0] > 23 || parts[1] > 59 || parts[2] > 59)
        {
            return false;
        }

        usual = separators[0] == ':' && separators[1] == ':' && separators[2] is (byte)':' or (byte)';'
            && widths[0] == 2 && widths[1] == 2 && widths[2] == 2 && widths[3] >= 2;
        label = new(parts[0], parts[1], parts[2], parts[3], separators[2] is (byte)';' or (byte)',');
        return true;
    }

    // Nearly every label of a list has eleven characters of one shape.
    private static bool TryParseUsual(ReadOnlySpan<byte> text, out EditLabel label)
    {
        label = default;
        if (text.Length != 11 || text[2] != ':' || text[5] != ':' || (text[8] != ':' && text[8] != ';'))
        {
            return false;
        }

        int hours = TwoDigits(text[0], text[1]);
        int minutes = TwoDigits(text[3], text[4]);
        int seconds = TwoDigits(text[6], text[7]);
        int frames = TwoDigits(text[9], text[10]);
        if (hours is < 0 or > 23 || minutes is < 0 or > 59 || seconds is < 0 or > 59 || frames < 0)
        {
            return false;
        }

        label = new(hours, minutes, seconds, frames, text[8] == ';');
        return true;
    }

    private static int TwoDigits(byte tens, byte units) =>
        tens is >= (byte)'0' and <= (byte)'9' && units is >= (byte)'0' and <= (byte)'9' ? ((tens - '0') * 10) + units - '0' : -1;

    /// <summary>Whether a word is made of digits and separators as a label is, right or wrong.</summary>
    /// <param name="text">The word.</param>
    public static bool LooksLikeLabel(ReadOnlySpan<byte> text)
    {
        int colons = 0;
        int points = 0;
        foreach (byte c in text)
        {
            if (c is (byte)':' or (byte)';')
            {
                colons++;
            }
            else if (c is (byte)'.' or (byte)',')
            {
                points++;
            }
            else if (c is not (>= (byte)'0' and <= (byte)'9'))
            {
                return false;
            }
        }

        return colons >= 2 || colons + points >= 3;
    }

    /// <summary><c>01:00:00:00</c>, or <c>01:00:00;00</c> with the semicolon.</summary>
    public override string ToString() => $"{Hours:D2}:{Minutes:D2}:{Seconds:D2}{(Semicolon ? ';' : ':')}{Frames:D2}";
}
