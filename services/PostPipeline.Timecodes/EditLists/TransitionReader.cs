using System.Text;

namespace PostPipeline.Timecodes.EditLists;

/// <summary>Reads the transition of an event line, from its last word backwards.</summary>
internal static class TransitionReader
{
    /// <summary>Reads it.</summary>
    /// <param name="words">The words of the line.</param>
    /// <param name="last">The last word before the labels; afterwards the last before the transition.</param>
    /// <param name="line">The line, from 1.</param>
    /// <param name="problems">What is wrong with it.</param>
    /// <param name="transition">The transition.</param>
    /// <returns>Whether there is one.</returns>
    public static bool TryRead(ref LineWords words, ref int last, int line, EditListProblems problems, out EditTransition transition)
    {
        transition = default;
        int duration = 0;
        int transitionWord = last;
        bool fade = false;
        if (last >= 2 && EditText.AllDigits(words[last]))
        {
            duration = EditText.Number(words[last]);
            transitionWord = --last;
            if (duration > EditTransition.MaximumDurationFrames)
            {
                problems.Add(line, words.Column(last + 1), $"the transition lasts {EditText.Of(words[last + 1])} frames; allowed are 0 to {EditTransition.MaximumDurationFrames}");
                return false;
            }
        }

        if (last >= 1 && Ascii.EqualsIgnoreCase(words[last], "(F)"u8))
        {
            fade = true;
            last--;
        }

        if (last < 1)
        {
            problems.Add(line, words.Column(1), "an event line has no transition; allowed are C, D, W and a number, K, K B, K O");
            return false;
        }

        ReadOnlySpan<byte> word = words[last];
        bool afterK = last >= 2 && Ascii.EqualsIgnoreCase(words[last - 1], "K"u8);
        TransitionKind kind;
        int wipe = 0;
        if (afterK && (Ascii.EqualsIgnoreCase(word, "B"u8) || Ascii.EqualsIgnoreCase(word, "O"u8)))
        {
            kind = (word[0] | 0x20) == 'b' ? TransitionKind.KeyBackground : TransitionKind.KeyOut;
            last--;
        }
        else if (Ascii.EqualsIgnoreCase(word, "C"u8))
        {
            kind = TransitionKind.Cut;
        }
        else if (Ascii.EqualsIgnoreCase(word, "D"u8))
        {
            kind = TransitionKind.Dissolve;
        }
        else if (Ascii.EqualsIgnoreCase(word, "K"u8))
        {
            kind = TransitionKind.KeyIn;
        }
        else if (Ascii.EqualsIgnoreCase(word, "KB"u8))
        {
            kind = TransitionKind.KeyBackground;
        }
        else if (Ascii.EqualsIgnoreCase(word, "KO"u8))
        {
            kind = TransitionKind.KeyOut;
        }
        else if (word.Length is >= 2 and <= 7 && (word[0] | 0x20) == 'w' && EditText.AllDigits(word[1..]))
        {
            kind = TransitionKind.Wipe;
            wipe = EditText.Number(word[1..]);
        }
        else if (last >= 2 && word.Length <= 6 && EditText.AllDigits(word) && Ascii.EqualsIgnoreCase(words[last - 1], "W"u8))
        {
            kind = TransitionKind.Wipe;
            wipe = EditText.Number(word);
            problems.Deviate(line, words.Column(last), "the wipe pattern stands apart from its W");
            last--;
        }
        else
        {
            problems.Add(line, words.Column(last), $"'{EditText.Of(word)}' is not a transition; allowed are C, D, W and a number, K, K B, K O");
            return false;
        }

        if (kind == TransitionKind.Cut && (duration != 0 || fade || transitionWord != last))
        {
            problems.Deviate(line, words.Column(last), "a cut carries a duration or a fade flag; read as a cut");
            (duration, fade) = (0, false);
        }

        if (kind is TransitionKind.Dissolve or TransitionKind.Wipe && transitionWord == last && duration == 0)
        {
            problems.Deviate(line, words.Column(last), "the transition has no duration; read as 0 frames");
        }

        transition = new(kind, wipe, duration, fade);
        last--;
        return true;
    }
}
