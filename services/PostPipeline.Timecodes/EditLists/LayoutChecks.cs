using System.Globalization;

namespace PostPipeline.Timecodes.EditLists;

/// <summary>What a strict reading expects of a line beyond what can be understood: its characters, and where its fields begin.</summary>
internal sealed class LayoutChecks(EditListProblems problems)
{
    // SMPTE ST 258 (value from memory): the first column of each field of an event line.
    private const int ReelColumn = 6;
    private const int TracksColumn = 15;
    private const int TransitionColumn = 21;
    private const int DurationColumn = 26;
    private const int FirstLabelColumn = 30;
    private const int LabelPitch = 12;
    private const int LongestReel = 8;

    private long lastNumber = -1;

    public void CheckCharacters(ReadOnlySpan<byte> raw, ReadOnlySpan<byte> content, int indent, int line)
    {
        if (indent > 0)
        {
            problems.Deviate(line, 1, "the line is indented");
        }

        if (indent + content.Length < raw.Length)
        {
            problems.Deviate(line, indent + content.Length + 1, "spaces at the end of the line");
        }

        int odd = raw.IndexOfAnyExceptInRange((byte)0x20, (byte)0x7E);
        if (odd >= 0)
        {
            problems.Deviate(line, odd + 1, $"the byte 0x{raw[odd]:X2} is not a printable ASCII character");
        }
    }

    public void CheckEvent(ref LineWords words, int line, int lastReelWord, int firstLabel, string reel, string number, FrameCodeMode mode, bool isFirst)
    {
        if (number.Length != 3)
        {
            problems.Deviate(line, 1, $"the event number '{number}' has {number.Length} digits; the standard has 3");
        }

        long value = long.Parse(number, CultureInfo.InvariantCulture);
        if (value < lastNumber)
        {
            problems.Deviate(line, 1, $"the event number {number} comes after {lastNumber}");
        }

        lastNumber = value;
        if (reel.Length > LongestReel)
        {
            problems.Deviate(line, words.Column(1), $"the reel '{reel}' has {reel.Length} characters; the standard has at most {LongestReel}");
        }

        if (isFirst && mode == FrameCodeMode.Unstated)
        {
            problems.Deviate(line, 1, "no FCM line comes before the first event");
        }

        CheckColumn(ref words, line, 1, ReelColumn, "the reel");
        if (lastReelWord + 1 < firstLabel)
        {
            CheckColumn(ref words, line, lastReelWord + 1, TracksColumn, "the tracks");
        }

        if (lastReelWord + 2 < firstLabel)
        {
            CheckColumn(ref words, line, lastReelWord + 2, TransitionColumn, "the transition");
        }

        if (lastReelWord + 3 < firstLabel && EditText.AllDigits(words[firstLabel - 1]))
        {
            CheckColumn(ref words, line, firstLabel - 1, DurationColumn, "the duration");
        }

        for (int i = 0; i < 4; i++)
        {
            CheckColumn(ref words, line, firstLabel + i, FirstLabelColumn + (i * LabelPitch), "the label");
        }
    }

    private void CheckColumn(ref LineWords words, int line, int word, int expected, string what)
    {
        if (words.Column(word) != expected)
        {
            problems.Deviate(line, words.Column(word), $"{what} begins in column {words.Column(word)}; the standard has column {expected}");
        }
    }
}
