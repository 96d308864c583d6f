using System.Collections.Immutable;
using PostPipeline.Quantities;

namespace PostPipeline.Timecodes.EditLists;

/// <summary>Takes an edit list line by line and puts the events together.</summary>
internal sealed class EditListAssembler
{
    private readonly EditListReadOptions options;
    private readonly EditListProblems problems;
    private readonly LineReader lines;
    private readonly LayoutChecks layout;
    private readonly ImmutableArray<EditComment>.Builder preamble = ImmutableArray.CreateBuilder<EditComment>();
    private readonly List<EditEvent> events = [];
    private readonly List<EditComment> comments = [];
    private readonly List<MotionEffect> motions = [];
    private string? title;
    private FrameCodeMode mode;

    // The event that the lines below still belong to; it joins the others once the next one begins.
    private OpenEvent? open;

    public EditListAssembler(EditListReadOptions options)
    {
        this.options = options;
        problems = new(options);
        lines = new(problems);
        layout = new(problems);
    }

    private int EventCount => events.Count + (open is null ? 0 : 1);

    /// <summary>Takes one line without its ending.</summary>
    /// <returns>Whether more lines are wanted.</returns>
    public bool Take(ReadOnlySpan<byte> raw, int line)
    {
        if (raw.Length > options.MaximumLineBytes)
        {
            problems.Add(line, options.MaximumLineBytes + 1, $"the line has {raw.Length} bytes; allowed are {options.MaximumLineBytes}");
            return true;
        }

        int indent = raw.IndexOfAnyExcept((byte)' ', (byte)'\t');
        if (indent < 0)
        {
            problems.Deviate(line, 1, "an empty line");
            return true;
        }

        ReadOnlySpan<byte> content = raw[indent..].TrimEnd(" \t"u8);
        if (options.Strict)
        {
            layout.CheckCharacters(raw, content, indent, line);
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
        else if (title is null && EditText.StartsWith(content, "TITLE:"u8))
        {
            title = EditText.Of(content["TITLE:"u8.Length..].Trim(" \t"u8));
            if (EventCount > 0)
            {
                problems.Deviate(line, 1, "the title stands below the first event");
            }
        }
        else if (EditText.StartsWith(content, "FCM:"u8) && ModeReader.TryRead(content, line, problems, out FrameCodeMode stated))
        {
            // What stands between this line and the next event still belongs to the event above.
            mode = stated;
        }
        else if (EditText.StartsWith(content, "M2"u8) && content.Length > 2 && content[2] is (byte)' ' or (byte)'\t' && TakeMotion(raw, line))
        {
            return true;
        }
        else
        {
            problems.Deviate(line, indent + 1, "a statement without asterisk that the standard does not name; kept as it is");
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
            problems.Deviate(1, 1, "the list has no TITLE line");
        }

        return new(new(title, preamble.DrainToImmutable(), [.. events]), [.. problems.Listed], problems.LeftOff);
    }

    private bool TakeEvent(ReadOnlySpan<byte> raw, int line, out bool more)
    {
        more = true;
        Span<(int, int)> room = stackalloc (int, int)[LineWords.Capacity];
        LineWords words = new(raw, room);
        bool numbered = words[0].Length <= 6 && EditText.AllDigits(words[0]);

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

            problems.Add(line, words.Column(0), $"'{EditText.Of(words[0])}' is not an event number; allowed are 1 to 6 digits");
            return false;
        }

        if (firstLabel + 4 > words.Count)
        {
            problems.Add(line, words.Column(words.Count), $"an event line has {Math.Max(0, words.Count - firstLabel)} labels; it needs source in, source out, record in and record out");
            return false;
        }

        Span<EditLabel> labels = stackalloc EditLabel[4];
        for (int i = 0; i < 4; i++)
        {
            if (!lines.TryLabel(ref words, firstLabel + i, line, out labels[i]))
            {
                return false;
            }
        }

        int last = firstLabel - 1;
        if (!TransitionReader.TryRead(ref words, ref last, line, problems, out EditTransition transition))
        {
            return false;
        }

        if (last < 1)
        {
            problems.Add(line, words.Column(1), "an event line has no reel before its transition");
            return false;
        }

        string tracks = "V";
        if (last == 1)
        {
            problems.Deviate(line, words.Column(1), "the tracks are missing; read as V");
        }
        else
        {
            tracks = words[last] is [(byte)'V'] ? "V" : EditText.Of(words[last]);
            if (!EditText.IsUsualTracks(words[last]))
            {
                problems.Deviate(line, words.Column(last), $"the tracks '{tracks}' are not among V, A, A2, A2/V, B, NONE");
            }

            last--;
        }

        if (EventCount >= options.MaximumEvents)
        {
            problems.Add(line, 1, $"the list has more than {options.MaximumEvents} event lines, which is the limit");
            more = false;
            return true;
        }

        string reel = lines.Reel(ref words, 1, last);
        string number = lines.Word(words[0]);
        if (options.Strict)
        {
            layout.CheckEvent(ref words, line, last, firstLabel, reel, number, mode, isFirst: EventCount == 0);
        }

        if (firstLabel + 4 < words.Count)
        {
            problems.Deviate(line, words.Column(firstLabel + 4), "text behind the last label; kept as a comment");
        }

        CloseEvent();
        open = new(line, number, reel, tracks, transition, labels[0], labels[1], labels[2], labels[3], mode);
        if (firstLabel + 4 < words.Count)
        {
            AddComment(raw[(words.Column(firstLabel + 4) - 1)..].Trim(" \t"u8), starred: true);
        }

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
            if (!lines.TryLabel(ref words, last, line, out EditLabel label))
            {
                return false;
            }

            entry = label;
            last--;
        }
        else
        {
            problems.Deviate(line, words.Column(words.Count), "the motion line has no entry label");
        }

        ReadOnlySpan<byte> speedText = last >= 1 ? words[last] : default;
        if (!LineReader.TryParseSpeed(speedText, out Rational speed))
        {
            problems.Add(line, words.Column(Math.Max(last, 1)), $"'{EditText.Of(speedText)}' is not a speed in frames per second; allowed is a decimal such as 024.0 or -012.5, at most ±{LineReader.MaximumSpeed}");
            return false;
        }

        if (open is null)
        {
            problems.Add(line, 1, "a motion line stands before the first event");
            return false;
        }

        string reel = lines.Reel(ref words, 1, last - 1);
        Attach(new(reel, speed, entry));
        return true;
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

    private void AddComment(ReadOnlySpan<byte> text, bool starred)
    {
        EditComment comment = new(CommentKinds.Of(text, starred), starred, EditText.Of(text));
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

    private readonly record struct OpenEvent(
        int Line, string Number, string Reel, string Tracks, EditTransition Transition, EditLabel SourceIn, EditLabel SourceOut, EditLabel RecordIn, EditLabel RecordOut, FrameCodeMode Mode);
}
