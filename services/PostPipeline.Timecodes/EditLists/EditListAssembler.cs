using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using PostPipeline.Quantities;

namespace PostPipeline.Timecodes.EditLists;

/// <summary>Takes an edit list line by line and puts the events together.</summary>
internal sealed class EditListAssembler(EditListReadOptions options)
{
    // SMPTE ST 258 (value from memory): the first column of each field of an event line.
    private const int ReelColumn = 6;
    private const int TracksColumn = 15;
    private const int TransitionColumn = 21;
    private const int DurationColumn = 26;
    private const int FirstLabelColumn = 30;
    private const int LabelPitch = 12;
    private const int LongestReel = 8;

    private readonly ImmutableArray<EditComment>.Builder preamble = ImmutableArray.CreateBuilder<EditComment>();
    private readonly List<EditEvent> events = [];
    private readonly List<EditComment> comments = [];
    private readonly List<MotionEffect> motions = [];
    private readonly List<EditListProblem> problems = [];
    private readonly Dictionary<string, string>.AlternateLookup<ReadOnlySpan<char>> sharedWords =
        new Dictionary<string, string>(StringComparer.Ordinal).GetAlternateLookup<ReadOnlySpan<char>>();

    private int problemsLeftOff;
    private string? title;
    private FrameCodeMode mode;
    private long lastNumber = -1;

    // The event that the lines below still belong to; it joins the others once the next one begins.
    private OpenEvent? open;

    private int EventCount => events.Count + (open is null ? 0 : 1);

    /// <summary>Takes one line without its ending.</summary>
    /// <returns>Whether more lines are wanted.</returns>
    public bool Take(ReadOnlySpan<byte> raw, int line)
    {
        if (raw.Length > options.MaximumLineBytes)
        {
            Add(line, options.MaximumLineBytes + 1, true, $"the line has {raw.Length} bytes; allowed are {options.MaximumLineBytes}");
            return true;
        }

        int indent = raw.IndexOfAnyExcept((byte)' ', (byte)'\t');
        if (indent < 0)
        {
            Deviate(line, 1, "an empty line");
            return true;
        }

        ReadOnlySpan<byte> content = raw[indent..].TrimEnd(" \t"u8);
        if (options.Strict)
        {
            CheckCharacters(raw, content, indent, line);
        }

        byte first = content[0];
        if (first == '*')
        {
            AddComment(content[1..].Trim(" \t"u8), starred: true);
        }
        else if (first is >= (byte)'0' and <= (byte)'9' && TakeEvent(raw, line, out bool more))
        {
            return more;
        }
        else if (title is null && StartsWith(content, "TITLE:"u8))
        {
            title = Text(content["TITLE:"u8.Length..].Trim(" \t"u8));
            if (EventCount > 0)
            {
                Deviate(line, 1, "the title stands below the first event");
            }
        }
        else if (StartsWith(content, "FCM:"u8) && TakeMode(content, line))
        {
            return true;
        }
        else if (StartsWith(content, "M2"u8) && content.Length > 2 && content[2] is (byte)' ' or (byte)'\t' && TakeMotion(raw, line))
        {
            return true;
        }
        else
        {
            Deviate(line, indent + 1, "a statement without asterisk that the standard does not name; kept as it is");
            AddComment(content, starred: false);
        }

        return true;
    }

    /// <summary>The list as far as it was taken.</summary>
    public EditListReading Finish()
    {
        CloseEvent();
        if (title is null)
        {
            Deviate(1, 1, "the list has no TITLE line");
        }

        return new(new(title, preamble.DrainToImmutable(), [.. events]), [.. problems], problemsLeftOff);
    }

    private static bool StartsWith(ReadOnlySpan<byte> content, ReadOnlySpan<byte> word) =>
        content.Length >= word.Length && Ascii.EqualsIgnoreCase(content[..word.Length], word);

    private static string Text(ReadOnlySpan<byte> bytes)
    {
        // A list in another encoding than UTF-8 keeps every byte as the Latin-1 character of the same value.
        return System.Text.Unicode.Utf8.IsValid(bytes) ? Encoding.UTF8.GetString(bytes) : Encoding.Latin1.GetString(bytes);
    }

    private static bool AllDigits(ReadOnlySpan<byte> word) => word.Length > 0 && word.IndexOfAnyExceptInRange((byte)'0', (byte)'9') < 0;

    private static int Number(ReadOnlySpan<byte> digits)
    {
        int value = 0;
        foreach (byte digit in digits)
        {
            value = Math.Min((value * 10) + (digit - '0'), 100_000_000);
        }

        return value;
    }

    private static bool IsUsualTracks(ReadOnlySpan<byte> word)
    {
        if (Ascii.EqualsIgnoreCase(word, "NONE"u8) || Ascii.EqualsIgnoreCase(word, "B"u8) || Ascii.EqualsIgnoreCase(word, "AA"u8))
        {
            return true;
        }

        foreach (byte c in word)
        {
            if (c is not ((byte)'V' or (byte)'A' or (byte)'/' or (>= (byte)'0' and <= (byte)'9')))
            {
                return false;
            }
        }

        return true;
    }

    private bool TakeEvent(ReadOnlySpan<byte> raw, int line, out bool more)
    {
        more = true;
        Span<(int, int)> room = stackalloc (int, int)[LineWords.Capacity];
        LineWords words = new(raw, room);
        bool numbered = words[0].Length <= 6 && AllDigits(words[0]);

        // The second word is the reel, even where it looks like a label.
        int firstLabel = 2;
        while (firstLabel < words.Count && !EditLabel.LooksLikeLabel(words[firstLabel]))
        {
            firstLabel++;
        }

        if (!numbered)
        {
            // Text that happens to begin with a digit; with labels in it, it is more likely a damaged event.
            if (firstLabel >= words.Count)
            {
                return false;
            }

            Add(line, words.Column(0), true, $"'{Text(words[0])}' is not an event number; allowed are 1 to 6 digits");
            return false;
        }

        if (firstLabel + 4 > words.Count)
        {
            Add(line, words.Column(words.Count), true, $"an event line has {Math.Max(0, words.Count - firstLabel)} labels; it needs source in, source out, record in and record out");
            return false;
        }

        Span<EditLabel> labels = stackalloc EditLabel[4];
        for (int i = 0; i < 4; i++)
        {
            if (!EditLabel.TryParse(words[firstLabel + i], out labels[i], out bool usual))
            {
                Add(line, words.Column(firstLabel + i), true, $"'{Text(words[firstLabel + i])}' is not a label; allowed is 00:00:00:00 to 23:59:59 with a frame number of at most three digits");
                return false;
            }

            if (!usual)
            {
                Deviate(line, words.Column(firstLabel + i), $"the label '{Text(words[firstLabel + i])}' is not written as 00:00:00:00 or 00:00:00;00");
            }
        }

        int last = firstLabel - 1;
        if (!TakeTransition(ref words, ref last, line, out EditTransition transition))
        {
            return false;
        }

        if (last < 1)
        {
            Add(line, words.Column(1), true, "an event line has no reel before its transition");
            return false;
        }

        string tracks = "V";
        if (last == 1)
        {
            Deviate(line, words.Column(1), "the tracks are missing; read as V");
        }
        else
        {
            tracks = words[last] is [(byte)'V'] ? "V" : Text(words[last]);
            if (!IsUsualTracks(words[last]))
            {
                Deviate(line, words.Column(last), $"the tracks '{tracks}' are not among V, A, A2, A2/V, B, NONE");
            }

            last--;
        }

        if (EventCount >= options.MaximumEvents)
        {
            Add(line, 1, true, $"the list has more than {options.MaximumEvents} event lines, which is the limit");
            more = false;
            return true;
        }

        string reel = Reel(ref words, 1, last);
        string number = Shared(words[0]);
        if (options.Strict)
        {
            CheckLayout(ref words, line, last, firstLabel, reel, number);
        }

        if (firstLabel + 4 < words.Count)
        {
            Deviate(line, words.Column(firstLabel + 4), "text behind the last label; kept as a comment");
        }

        CloseEvent();
        open = new(line, number, reel, tracks, transition, labels[0], labels[1], labels[2], labels[3], mode);
        if (firstLabel + 4 < words.Count)
        {
            AddComment(raw[(words.Column(firstLabel + 4) - 1)..].Trim(" \t"u8), starred: true);
        }

        return true;
    }

    private bool TakeTransition(ref LineWords words, ref int last, int line, out EditTransition transition)
    {
        transition = default;
        int duration = 0;
        int transitionWord = last;
        bool fade = false;
        if (last >= 2 && AllDigits(words[last]))
        {
            duration = Number(words[last]);
            transitionWord = --last;
            if (duration > EditTransition.MaximumDurationFrames)
            {
                Add(line, words.Column(last + 1), true, $"the transition lasts {Text(words[last + 1])} frames; allowed are 0 to {EditTransition.MaximumDurationFrames}");
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
            Add(line, words.Column(1), true, "an event line has no transition; allowed are C, D, W and a number, K, K B, K O");
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
        else if (word.Length is >= 2 and <= 7 && (word[0] | 0x20) == 'w' && AllDigits(word[1..]))
        {
            kind = TransitionKind.Wipe;
            wipe = Number(word[1..]);
        }
        else if (last >= 2 && word.Length <= 6 && AllDigits(word) && Ascii.EqualsIgnoreCase(words[last - 1], "W"u8))
        {
            kind = TransitionKind.Wipe;
            wipe = Number(word);
            Deviate(line, words.Column(last), "the wipe pattern stands apart from its W");
            last--;
        }
        else
        {
            Add(line, words.Column(last), true, $"'{Text(word)}' is not a transition; allowed are C, D, W and a number, K, K B, K O");
            return false;
        }

        if (kind == TransitionKind.Cut && (duration != 0 || fade || transitionWord != last))
        {
            Deviate(line, words.Column(last), "a cut carries a duration or a fade flag; read as a cut");
            (duration, fade) = (0, false);
        }

        if (kind is TransitionKind.Dissolve or TransitionKind.Wipe && transitionWord == last && duration == 0)
        {
            Deviate(line, words.Column(last), "the transition has no duration; read as 0 frames");
        }

        transition = new(kind, wipe, duration, fade);
        last--;
        return true;
    }

    private bool TakeMode(ReadOnlySpan<byte> content, int line)
    {
        ReadOnlySpan<byte> value = content["FCM:"u8.Length..].Trim(" \t"u8);
        FrameCodeMode stated;
        if (Ascii.EqualsIgnoreCase(value, "NON-DROP FRAME"u8))
        {
            stated = FrameCodeMode.NonDrop;
        }
        else if (Ascii.EqualsIgnoreCase(value, "DROP FRAME"u8))
        {
            stated = FrameCodeMode.Drop;
        }
        else if (StartsWith(value, "NON"u8))
        {
            stated = FrameCodeMode.NonDrop;
            Deviate(line, 6, $"'{Text(value)}' is not NON-DROP FRAME or DROP FRAME; read as non-drop");
        }
        else if (StartsWith(value, "DROP"u8))
        {
            stated = FrameCodeMode.Drop;
            Deviate(line, 6, $"'{Text(value)}' is not NON-DROP FRAME or DROP FRAME; read as drop");
        }
        else
        {
            Add(line, 6, true, $"'{Text(value)}' is not a frame-code mode; allowed are NON-DROP FRAME and DROP FRAME");
            return false;
        }

        // What stands between this line and the next event still belongs to the event above.
        mode = stated;
        return true;
    }

    private bool TakeMotion(ReadOnlySpan<byte> raw, int line)
    {
        Span<(int, int)> room = stackalloc (int, int)[LineWords.Capacity];
        LineWords words = new(raw, room);
        int last = words.Count - 1;
        EditLabel? entry = null;
        if (EditLabel.LooksLikeLabel(words[last]))
        {
            if (!EditLabel.TryParse(words[last], out EditLabel label, out bool usual))
            {
                Add(line, words.Column(last), true, $"'{Text(words[last])}' is not a label; allowed is 00:00:00:00 to 23:59:59 with a frame number of at most three digits");
                return false;
            }

            if (!usual)
            {
                Deviate(line, words.Column(last), $"the label '{Text(words[last])}' is not written as 00:00:00:00 or 00:00:00;00");
            }

            entry = label;
            last--;
        }
        else
        {
            Deviate(line, words.Column(words.Count), "the motion line has no entry label");
        }

        ReadOnlySpan<byte> speedText = last >= 1 ? words[last] : default;
        if (!TryParseSpeed(speedText, out Rational speed))
        {
            Add(line, words.Column(Math.Max(last, 1)), true, $"'{Text(speedText)}' is not a speed in frames per second; allowed is a decimal such as 024.0 or -012.5, at most ±{MaximumSpeed}");
            return false;
        }

        if (open is null)
        {
            Add(line, 1, true, "a motion line stands before the first event");
            return false;
        }

        string reel = Reel(ref words, 1, last - 1);
        Attach(new(reel, speed, entry));
        return true;
    }

    private const int MaximumSpeed = 1_000_000;

    private static bool TryParseSpeed(ReadOnlySpan<byte> text, out Rational speed)
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

    private void Attach(MotionEffect motion)
    {
        // Below a two-line transition the motion belongs to the line with its reel and entry, else to the line with
        // its reel, else to the nearer one.
        OpenEvent last = open!.Value;
        EditEvent? before = events.Count > 0 && events[^1].Number == last.Number ? events[^1] : null;
        if (before is not null && Fit(before.Reel, before.SourceIn, motion) > Fit(last.Reel, last.SourceIn, motion))
        {
            events[^1] = before with { Motions = before.Motions.Add(motion) };
        }
        else
        {
            motions.Add(motion);
        }
    }

    private static int Fit(string reel, EditLabel sourceIn, MotionEffect motion) => reel != motion.Reel ? 0 : motion.Entry == sourceIn ? 2 : 1;

    private string Reel(ref LineWords words, int from, int to)
    {
        if (to < from)
        {
            return string.Empty;
        }

        string text = Shared(words[from]);
        for (int i = from + 1; i <= to; i++)
        {
            text = $"{text} {Text(words[i])}";
        }

        return text;
    }

    private string Shared(ReadOnlySpan<byte> word)
    {
        // Thousands of events share a handful of reels and numbers; a word that was seen costs no new text.
        Span<char> wide = stackalloc char[32];
        if (word.Length > wide.Length || !Ascii.IsValid(word))
        {
            return Text(word);
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

    private void AddComment(ReadOnlySpan<byte> text, bool starred)
    {
        CommentKind kind = starred ? CommentKind.Remark : CommentKind.OtherStatement;
        if (StartsWith(text, "FROM CLIP NAME:"u8))
        {
            kind = CommentKind.FromClipName;
        }
        else if (StartsWith(text, "TO CLIP NAME:"u8))
        {
            kind = CommentKind.ToClipName;
        }
        else if (StartsWith(text, "KEY CLIP NAME:"u8))
        {
            kind = CommentKind.KeyClipName;
        }
        else if (StartsWith(text, "SOURCE FILE:"u8))
        {
            kind = CommentKind.SourceFile;
        }
        else if (StartsWith(text, "LOC:"u8))
        {
            kind = CommentKind.Marker;
        }

        EditComment comment = new(kind, starred, Text(text));
        if (open is null)
        {
            preamble.Add(comment);
        }
        else
        {
            comments.Add(comment);
        }
    }

    private void CloseEvent()
    {
        if (open is not { } e)
        {
            return;
        }

        events.Add(new(
            e.Line, e.Number, e.Reel, e.Tracks, e.Transition, e.SourceIn, e.SourceOut, e.RecordIn, e.RecordOut, e.Mode, [.. motions], [.. comments]));
        open = null;
        motions.Clear();
        comments.Clear();
    }

    private void CheckCharacters(ReadOnlySpan<byte> raw, ReadOnlySpan<byte> content, int indent, int line)
    {
        if (indent > 0)
        {
            Deviate(line, 1, "the line is indented");
        }

        if (indent + content.Length < raw.Length)
        {
            Deviate(line, indent + content.Length + 1, "spaces at the end of the line");
        }

        int odd = raw.IndexOfAnyExceptInRange((byte)0x20, (byte)0x7E);
        if (odd >= 0)
        {
            Deviate(line, odd + 1, $"the byte 0x{raw[odd]:X2} is not a printable ASCII character");
        }
    }

    private void CheckLayout(ref LineWords words, int line, int lastReelWord, int firstLabel, string reel, string number)
    {
        if (number.Length != 3)
        {
            Deviate(line, 1, $"the event number '{number}' has {number.Length} digits; the standard has 3");
        }

        long value = long.Parse(number, CultureInfo.InvariantCulture);
        if (value < lastNumber)
        {
            Deviate(line, 1, $"the event number {number} comes after {lastNumber}");
        }

        lastNumber = value;
        if (reel.Length > LongestReel)
        {
            Deviate(line, words.Column(1), $"the reel '{reel}' has {reel.Length} characters; the standard has at most {LongestReel}");
        }

        if (mode == FrameCodeMode.Unstated && EventCount == 0)
        {
            Deviate(line, 1, "no FCM line comes before the first event");
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

        if (lastReelWord + 3 < firstLabel && AllDigits(words[firstLabel - 1]))
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
            Deviate(line, words.Column(word), $"{what} begins in column {words.Column(word)}; the standard has column {expected}");
        }
    }

    private void Deviate(int line, int column, string message)
    {
        if (options.Strict)
        {
            Add(line, column, false, message);
        }
    }

    private void Add(int line, int column, bool isError, string message)
    {
        if (problems.Count < options.MaximumProblems)
        {
            problems.Add(new(line, column, isError, message));
        }
        else
        {
            problemsLeftOff++;
        }
    }

    private readonly record struct OpenEvent(
        int Line, string Number, string Reel, string Tracks, EditTransition Transition, EditLabel SourceIn, EditLabel SourceOut, EditLabel RecordIn, EditLabel RecordOut, FrameCodeMode Mode);
}
