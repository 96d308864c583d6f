using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Client.Conforming;
using PostPipeline.Contracts.Timecodes.V1;
using PostPipeline.Quantities;

namespace PostPipeline.Cli.Commands.Conform;

/// <summary>Options of verbs that match a cut.</summary>
internal static class CutOptions
{
    public static Argument<string> Cut { get; } = new("cut") { Description = "The cut: an edit decision list (SMPTE ST 258), or an OpenTimelineIO document by its ending .otio." };

    public static Option<string> Inventory { get; } = new("--inventory") { Description = "The clips that are there, CSV.", Required = true, HelpName = "FILE" };

    public static Option<string?> Rate { get; } = new("--rate") { Description = "Frames per second at which the list counts; an edit list does not say it.", HelpName = "RATE" };

    public static Option<bool> Drop { get; } = new("--drop") { Description = "Labels of a timeline count drop-frame; an edit list says so itself." };

    public static Option<string?> Old { get; } = new("--old") { Description = "An older version of the cut, to list what changed.", HelpName = "FILE" };

    public static Option<int> Handles { get; } = new("--handles") { Description = "Frames wanted before and behind each event; 0 without it.", HelpName = "N" };

    public static Option<string> Against { get; } = new("--against") { Description = "What is sought: original, mezzanine or proxy.", DefaultValueFactory = _ => "original", HelpName = "KIND" };

    public static Option<string[]> Map { get; } = new("--map") { Description = "Understand a foreign header of the inventory as one of ours; remembered beside the inventory.", AllowMultipleArgumentsPerToken = false, HelpName = "HEADER=column" };

    public static Option<string[]> Set { get; } = new("--set") { Description = "A value for every row of the inventory; remembered.", HelpName = "column=VALUE" };

    public static Option<string[]> Word { get; } = new("--word") { Description = "What a word of a column stands for; remembered.", HelpName = "column:WORD=MEANING" };

    /// <summary>Settings as given.</summary>
    public static ConformSettings Settings(Session session)
    {
        string cut = session.Line.GetValue(Cut)!;
        bool timeline = cut.EndsWith(".otio", StringComparison.OrdinalIgnoreCase);
        string? rate = session.Line.GetValue(Rate);
        ConformSettings settings = new()
        {
            Format = timeline ? CutFormat.Timeline : CutFormat.EditList,
            DropFrame = session.Line.GetValue(Drop),
            HandleFrames = session.Line.GetValue(Handles),
            Target = session.Line.GetValue(Against) switch
            {
                "proxy" => ClipKind.Proxy,
                "mezzanine" => ClipKind.Mezzanine,
                "original" => ClipKind.Original,
                var other => throw new InputException(InputProblem.Of("--against", other ?? string.Empty, "allowed are original, mezzanine and proxy")),
            },
            Mapping = Mapping(session, session.Line.GetValue(Inventory)!).ToMessage(),
        };
        if (!timeline)
        {
            string problem = "an edit list does not state its rate; write a whole number or an exact fraction such as 24000/1001";
            settings.Rate = rate is not null && FrameRate.TryParse(rate, out FrameRate read, out problem)
                ? new() { Numerator = read.Numerator, Denominator = read.Denominator }
                : throw new InputException(InputProblem.Of("--rate", rate ?? string.Empty, problem));
        }

        return settings;
    }

    /// <summary>Opens a file to be sent.</summary>
    public static FileStream Open(string path) => new(path, FileMode.Open, FileAccess.Read, FileShare.Read, 1, FileOptions.Asynchronous | FileOptions.SequentialScan);

    /// <summary>The mapping of an inventory: what is remembered, and what is given now, which is remembered too.</summary>
    public static HeaderMapping Mapping(Session session, string inventory)
    {
        string path = HeaderMapping.PathBeside(inventory);
        HeaderMapping mapping = HeaderMapping.Read(path);
        bool changed = false;
        foreach (string text in session.Line.GetValue(Map) ?? [])
        {
            (string header, string column) = Split("--map", text, '=');
            mapping.Columns[header] = column;
            changed = true;
        }

        foreach (string text in session.Line.GetValue(Set) ?? [])
        {
            (string column, string value) = Split("--set", text, '=');
            mapping.Constants[column] = value;
            changed = true;
        }

        foreach (string text in session.Line.GetValue(Word) ?? [])
        {
            (string column, string rest) = Split("--word", text, ':');
            (string word, string meaning) = Split("--word", rest, '=');
            if (!mapping.Words.TryGetValue(column, out SortedDictionary<string, string>? words))
            {
                mapping.Words.Add(column, words = new(StringComparer.Ordinal));
            }

            words[word] = meaning;
            changed = true;
        }

        if (changed)
        {
            mapping.Write(path);
            session.Note($"The mapping of headers is remembered in {path}");
        }

        return mapping;
    }

    private static (string Left, string Right) Split(string option, string text, char at)
    {
        int place = text.LastIndexOf(at);
        place = at == ':' ? text.IndexOf(at, StringComparison.Ordinal) : place;
        return place > 0 && place < text.Length - 1
            ? (text[..place], text[(place + 1)..])
            : throw new InputException(InputProblem.Of(option, text, $"allowed is LEFT{at}RIGHT with text on both sides"));
    }
}
