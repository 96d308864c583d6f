using System.CommandLine;
using System.Text;
using Google.Protobuf;
using PostPipeline.Cli.Frame;

namespace PostPipeline.Cli.Commands.Timecode;

/// <summary>Labels or frame numbers from the command line or from a file with one on each line.</summary>
internal static class LabelInput
{
    /// <summary>The service's batch.</summary>
    public const int BatchItems = 10_000;

    private const int MostItems = 1_000_000;
    private const int LongestItem = 32;

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

    /// <summary>Labels as rows of one width, in batches of the size that the service takes.</summary>
    public static IEnumerable<(ByteString Rows, int Width)> Batches(IReadOnlyList<string> labels)
    {
        foreach (string[] some in labels.Chunk(BatchItems))
        {
            // What is longer is no label whatever it holds; cut, it still fails, and the batch stays small.
            int width = Math.Clamp(some.Max(label => label.Length), 11, LongestItem);
            byte[] rows = Encoding.ASCII.GetBytes(string.Concat(some.Select(label => label.Length > width ? label[..width] : label.PadRight(width))));
            yield return (ByteString.CopyFrom(rows), width);
        }
    }

    /// <summary>The rows of an answer.</summary>
    public static IEnumerable<string> Rows(ByteString rows, int width)
    {
        string all = rows.ToStringUtf8();
        for (int at = 0; at < all.Length; at += width)
        {
            yield return all.Substring(at, width).TrimEnd();
        }
    }
}
