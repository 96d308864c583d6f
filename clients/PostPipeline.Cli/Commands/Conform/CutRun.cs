using PostPipeline.Cli.Frame;
using PostPipeline.Client.Conforming;
using PostPipeline.Contracts.Timecodes.V1;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Conform;

/// <summary>Runs a conform from files and refuses its answer where the files could not be understood.</summary>
internal static class CutRun
{
    private const int ProblemsShown = 50;

    /// <summary>Sends the files and takes the answer.</summary>
    public static async Task<ConformAnswer> AnswerAsync(Session session, ConformSettings settings)
    {
        string cutPath = session.Line.GetValue(CutOptions.Cut)!;
        string inventoryPath = session.Line.GetValue(CutOptions.Inventory)!;
        string? oldPath = session.Line.GetValue(CutOptions.Old);
        FileStream cut = CutOptions.Open(cutPath);
        await using (cut.ConfigureAwait(false))
        {
            FileStream inventory = CutOptions.Open(inventoryPath);
            await using (inventory.ConfigureAwait(false))
            {
                FileStream? old = oldPath is null ? null : CutOptions.Open(oldPath);
                await using ((old ?? Stream.Null).ConfigureAwait(false))
                {
                    ConformCalls calls = new((await session.ClientsAsync().ConfigureAwait(false)).Conform);
                    ConformAnswer answer = await calls.ConformAsync(settings, cut, old, inventory, session.Cancellation).ConfigureAwait(false);
                    if (answer.Summary.Refused)
                    {
                        throw new InputException([.. answer.Problems.Where(p => p.IsError).Take(ProblemsShown).Select(p => Shown(p, cutPath, oldPath, inventoryPath))]);
                    }

                    if (answer.Summary.UnmappedHeaders.Count > 0)
                    {
                        session.Note($"Columns of the inventory without a meaning here: {string.Join(", ", answer.Summary.UnmappedHeaders)}");
                    }

                    return answer;
                }
            }
        }
    }

    /// <summary>A problem with the file's own name.</summary>
    public static InputProblem Shown(FileProblem problem, string cut, string? old, string inventory) => new(
        problem.File switch
        {
            ConformFile.OldCut => old ?? string.Empty,
            ConformFile.Inventory or ConformFile.Media => inventory,
            _ => cut,
        },
        problem.Line,
        problem.Column,
        problem.Field,
        string.Empty,
        problem.Message);

    /// <summary>Prints how many events came to which class.</summary>
    public static void PrintClasses(IAnsiConsole console, ConformSummary summary)
    {
        Table table = new Table().Border(TableBorder.Simple).AddColumns("outcome", "events");
        foreach (ClassCount count in summary.Classes)
        {
            table.AddRow(count.Description, $"{count.Events}");
        }

        console.Write(table);
        console.WriteLine($"{summary.Events} events, {summary.EventsForPerson} for a person; {summary.Clips} files, {summary.IncompleteTakes} of {summary.ChunkedTakes} takes in several files incomplete");
        if (summary.Proxies > 0)
        {
            console.WriteLine($"{summary.ProxiesThatServe} of {summary.Proxies} proxies serve the cut; {summary.OriginalsWithoutProxy} originals have none");
        }

        if (summary.Nested.Count > 0)
        {
            console.WriteLine($"{summary.Nested.Count} nested compositions were opened");
        }

        if (summary.UnknownSchemas.Count > 0)
        {
            console.WriteLine($"Without a meaning here: {string.Join(", ", summary.UnknownSchemas)}");
        }
    }

    /// <summary>Prints what changed since the older cut.</summary>
    public static void PrintChanges(IAnsiConsole console, ConformAnswer answer)
    {
        if (answer.Summary.Difference is not { } difference)
        {
            return;
        }

        Table table = new Table().Border(TableBorder.Simple).AddColumns("change", "old", "new", "clip", "record in", "shift", "head", "tail", "to render");
        foreach (ChangeRow row in answer.Changes.Take(ProblemsShown))
        {
            table.AddRow(
                $"{row.Change}".ToLowerInvariant() + (row.KeepsOrder ? string.Empty : ", out of order"),
                row.OldNumber,
                row.NewNumber,
                Markup.Escape(row.Clip),
                row.RecordIn,
                $"{row.RecordShift}",
                $"{row.HeadFrames}",
                $"{row.TailFrames}",
                $"{row.FramesToRender}");
        }

        console.Write(table);
        Rest(console, answer.Changes.Count);
        console.WriteLine(
            $"{difference.Unchanged} unchanged, {difference.Moved} moved ({difference.Reordered} out of order), {difference.Trimmed} trimmed, {difference.Retimed} retimed, {difference.Added} added, {difference.Removed} removed");
        console.WriteLine($"To render: {difference.FramesToRender} frames event by event, {difference.FramesFromFirstChange} as one file from the first change on");
    }

    /// <summary>Says how many rows are not shown.</summary>
    public static void Rest(IAnsiConsole console, int rows)
    {
        if (rows > ProblemsShown)
        {
            console.WriteLine($"… and {rows - ProblemsShown} more; --json gives all");
        }
    }
}
