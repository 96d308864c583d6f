using System.CommandLine;
using PostPipeline.Cli.Frame;

namespace PostPipeline.Cli.Commands.Timecode;

/// <summary>Labels or frame numbers from the command line or from a file with one on each line.</summary>
internal static class LabelInput
{
    private const int MostItems = 1_000_000;

    public static Option<string?> FromFile { get; } = new("--file")
    {
        Description = "Read them from a file, one on each line.",
        HelpName = "FILE",
    };

    public static Argument<string[]> Labels { get; } = new("labels")
    {
        Description = "Labels such as 01:00:00:00; in drop-frame 01:00:00;00.",
        Arity = ArgumentArity.ZeroOrMore,
    };

    /// <summary>The items given, at least one.</summary>
    public static async Task<IReadOnlyList<string>> ReadAsync(Session session, Argument<string[]> argument)
    {
        List<string> items = [.. session.Line.GetValue(argument) ?? []];
        if (session.Line.GetValue(FromFile) is { } path)
        {
            await foreach (string line in File.ReadLinesAsync(path, session.Cancellation).ConfigureAwait(false))
            {
                if (items.Count == MostItems)
                {
                    throw new InputException(new InputProblem(path, items.Count, 0, string.Empty, string.Empty, $"there are more than {MostItems} lines; allowed are at most as many"));
                }

                items.Add(line.Trim());
            }
        }

        return items.Count > 0 ? items : throw new InputException(InputProblem.Of(argument.Name, string.Empty, "are missing; give them on the command line or with --file"));
    }
}
