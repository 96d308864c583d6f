namespace PostPipeline.Timecodes;

/// <summary>
/// What is wrong with a label and where. A value without text, so that refusing a million labels costs no memory;
/// <see cref="Describe"/> makes the sentence when somebody wants to read it.
/// </summary>
/// <param name="Fault">What is wrong.</param>
/// <param name="Position">The character at which it was noticed, from 0.</param>
public readonly record struct LabelError(LabelFault Fault, int Position)
{
    private const int LongestShown = 40;

    /// <summary>Whether nothing is wrong.</summary>
    public bool IsNone => Fault == LabelFault.None;

    /// <summary>A sentence with the label, the place, and what is allowed.</summary>
    /// <param name="label">The text that was read.</param>
    /// <param name="format">The format it was read in.</param>
    public string Describe(ReadOnlySpan<char> label, TimecodeFormat format)
    {
        string shown = label.Length <= LongestShown ? label.ToString() : $"{label[..LongestShown]}…";
        return Fault switch
        {
            LabelFault.None => string.Empty,
            LabelFault.Form => $"'{shown}' is not a label; write {Pattern(format)} with two digits a field",
            LabelFault.Digit => $"'{shown}' has no digit at character {Position + 1}; write {Pattern(format)}",
            LabelFault.Separator => $"'{shown}' has no separator at character {Position + 1}; write {Pattern(format)}",
            LabelFault.DropMark => $"'{shown}' is marked as drop-frame at character {Position + 1}, but {format} is numbered without dropping; write {Pattern(format)}",
            LabelFault.Hours => $"'{shown}' has hours outside 00 to 23",
            LabelFault.Minutes => $"'{shown}' has minutes outside 00 to 59",
            LabelFault.Seconds => $"'{shown}' has seconds outside 00 to 59",
            LabelFault.Frames => $"'{shown}' has a frame number outside 0 to {format.Nominal - 1}, the range at {format}",
            LabelFault.Dropped => $"'{shown}' is a dropped label: at {format}, frames 0 to {format.DroppedPerMinute - 1} are left out of each minute that is not a multiple of ten (SMPTE ST 12-1)",
            _ => $"'{shown}' is not a label",
        };
    }

    private static string Pattern(TimecodeFormat format) =>
        $"HH:MM:SS{(format.DropFrame ? ';' : ':')}{new string('F', format.FrameDigits)}";
}
