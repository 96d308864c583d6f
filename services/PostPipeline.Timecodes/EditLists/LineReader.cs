using System.Text;
using PostPipeline.Quantities;

namespace PostPipeline.Timecodes.EditLists;

/// <summary>Reads the labels, reels and speeds of lines.</summary>
internal sealed class LineReader(EditListProblems problems)
{
    /// <summary>The most frames a second of a motion, either way.</summary>
    public const int MaximumSpeed = 1_000_000;

    private readonly Dictionary<string, string>.AlternateLookup<ReadOnlySpan<char>> sharedWords =
        new Dictionary<string, string>(StringComparer.Ordinal).GetAlternateLookup<ReadOnlySpan<char>>();

    /// <summary>Reads a label; false, with a problem, where the word is none.</summary>
    public bool TryLabel(ref LineWords words, int word, int line, out EditLabel label)
    {
        if (!EditLabel.TryParse(words[word], out label, out bool usual))
        {
            problems.Add(line, words.Column(word), $"'{EditText.Of(words[word])}' is not a label; allowed is 00:00:00:00 to 23:59:59 with a frame number of at most three digits");
            return false;
        }

        if (!usual)
        {
            problems.Deviate(line, words.Column(word), $"the label '{EditText.Of(words[word])}' is not written as 00:00:00:00 or 00:00:00;00");
        }

        return true;
    }

    /// <summary>Reads a speed in frames per second.</summary>
    public static bool TryParseSpeed(ReadOnlySpan<byte> text, out Rational speed)
    {
        speed = default;
        Span<char> wide = stackalloc char[32];
        if (text.IsEmpty || text.Length > wide.Length || text.Contains((byte)'/'))
        {
            return false;
        }

        for (int i = 0; i < text.Length; i++)
        {
            wide[i] = (char)text[i];
        }

        // A decimal point with nothing behind it is in use.
        ReadOnlySpan<char> digits = wide[..text.Length].TrimEnd('.');
        return Rational.TryParse(digits, out speed) && speed <= MaximumSpeed && speed >= -MaximumSpeed;
    }

    /// <summary>The words of a reel, which may hold spaces.</summary>
    public string Reel(ref LineWords words, int from, int to)
    {
        if (to < from)
        {
            return string.Empty;
        }

        string text = Word(words[from]);
        for (int i = from + 1; i <= to; i++)
        {
            text = $"{text} {EditText.Of(words[i])}";
        }

        return text;
    }

    /// <summary>A word as text.</summary>
    public string Word(ReadOnlySpan<byte> word)
    {
        // Thousands of events share a handful of reels and numbers; a word that was seen costs no new text.
        Span<char> wide = stackalloc char[32];
        if (word.Length > wide.Length || !Ascii.IsValid(word))
        {
            return EditText.Of(word);
        }

        for (int i = 0; i < word.Length; i++)
        {
            wide[i] = (char)word[i];
        }

        ReadOnlySpan<char> text = wide[..word.Length];
        if (!sharedWords.TryGetValue(text, out string? known))
        {
            known = text.ToString();
            sharedWords.Dictionary.Add(known, known);
        }

        return known;
    }
}
