using System.CommandLine;
using System.Text;
using PostPipeline.Cli.Frame;
using PostPipeline.Client.Conforming;
using PostPipeline.Contracts.Timecodes.V1;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Conform;

/// <summary><c>pull</c>: which ranges of which files a cut needs, by medium; with an older cut, what is still to be fetched.</summary>
internal static class PullCommand
{
    private const int RowsShown = 50;

    private static readonly Option<int> Gap = new("--gap") { Description = "Pull ranges of one clip that are fewer frames apart than this as one.", DefaultValueFactory = _ => 24, HelpName = "N" };
    private static readonly Option<bool> Trim = new("--trim-unknown") { Description = "Trim files of which nobody knows whether they can be trimmed." };
    private static readonly Option<string?> Out = new("--out") { Description = "Write the pull list into this folder: CSV, edit lists (one a rate) and OpenTimelineIO.", HelpName = "DIR" };

    private sealed record Totals(int Files, long Frames, long Bytes, int FilesOfUnknownSize)
    {
        public static Totals? Of(PullTotals? totals) => totals is null ? null : new(totals.Files, totals.Frames, totals.Bytes, totals.FilesOfUnknownSize);
    }

    private sealed record Row(string Medium, string Name, string Reel, string Start, string End, long FirstFrame, long Frames, string Rate, bool WholeFile, long? Bytes, int Events);

    private sealed record Result(
        string Title,
        int Events,
        int EventsLeftOut,
        Totals? Planned,
        Totals? IfTrimmed,
        Totals? IfWhole,
        Totals? ToFetch,
        Totals? AlreadyOnline,
        Totals? NoLongerNeeded,
        long? FramesToRender,
        IReadOnlyList<string> Media,
        IReadOnlyList<Row> Ranges);

    public static Command Create() =>
        new Command("pull", "List the ranges of originals that a cut needs, with handles, by medium.")
        {
            CutOptions.Cut, CutOptions.Inventory, CutOptions.Rate, CutOptions.Drop, CutOptions.Old, CutOptions.Handles, CutOptions.Against,
            Gap, Trim, Out, CutOptions.Map, CutOptions.Set, CutOptions.Word,
        }.Runs(async session =>
        {
            ConformSettings settings = CutOptions.Settings(session);
            settings.Pull = new() { MergeGapFrames = session.Line.GetValue(Gap), TrimWhereUnknown = session.Line.GetValue(Trim) };
            OutputFolder? folder = session.Line.GetValue(Out) is { } path ? OutputFolder.Open(path) : null;
            if (folder is not null)
            {
                settings.Pull.Formats.AddRange([PullFormat.Csv, PullFormat.EditList, PullFormat.Timeline]);
            }

            ConformAnswer answer = await CutRun.AnswerAsync(session, settings).ConfigureAwait(false);
            foreach ((string name, byte[] content) in answer.Files)
            {
                folder!.Write(name, Encoding.UTF8.GetString(content));
                session.Note($"written: {Path.Combine(folder.Path, name)}");
            }

            return session.Answer("postpipeline.pull/1", Of(answer), console => Print(console, answer), answer.Summary.EventsLeftOut > 0 ? ExitCode.No : ExitCode.Done);
        });

    private static Result Of(ConformAnswer answer)
    {
        ConformSummary s = answer.Summary;
        return new(
            s.Title,
            s.Events,
            s.EventsLeftOut,
            Totals.Of(s.PullPlanned),
            Totals.Of(s.PullIfTrimmed),
            Totals.Of(s.PullIfWhole),
            Totals.Of(s.Difference?.ToFetch),
            Totals.Of(s.Difference?.AlreadyOnline),
            Totals.Of(s.Difference?.NoLongerNeeded),
            s.Difference?.FramesToRender,
            s.Media,
            [.. answer.Pull.Select(r => new Row(r.Medium, r.Name, r.Reel, r.Start, r.End, r.FirstFrame, r.Frames, r.Rate, r.WholeFile, r.HasBytes ? r.Bytes : null, r.Events))]);
    }

    private static void Print(IAnsiConsole console, ConformAnswer answer)
    {
        ConformSummary s = answer.Summary;
        Table table = new Table().Border(TableBorder.Simple).AddColumns("medium", "file", "start", "end", "frames", "whole", "bytes", "events");
        foreach (PullRow row in answer.Pull.Take(RowsShown))
        {
            table.AddRow(Markup.Escape(row.Medium), Markup.Escape(row.Name), row.Start, row.End, $"{row.Frames}", row.WholeFile ? "yes" : "no", row.HasBytes ? $"{row.Bytes}" : "unknown", $"{row.Events}");
        }

        console.Write(table);
        CutRun.Rest(console, answer.Pull.Count);
        Table totals = new Table().Border(TableBorder.Simple).AddColumns("pull", "files", "frames", "bytes", "files of unknown size");
        Add(totals, "as planned", s.PullPlanned);
        Add(totals, "if every file were trimmed", s.PullIfTrimmed);
        Add(totals, "if every file came whole", s.PullIfWhole);
        Add(totals, "still to fetch", s.Difference?.ToFetch);
        Add(totals, "online already", s.Difference?.AlreadyOnline);
        Add(totals, "online and no longer needed", s.Difference?.NoLongerNeeded);
        console.Write(totals);
        console.WriteLine($"Media to fetch: {(s.Media.Count == 0 ? "none named" : string.Join(", ", s.Media))}");
        if (s.EventsLeftOut > 0)
        {
            console.WriteLine($"{s.EventsLeftOut} events are left out: their pictures were not found. The verb conform says why.");
        }

        CutRun.PrintChanges(console, answer);
    }

    private static void Add(Table table, string name, PullTotals? totals)
    {
        if (totals is not null)
        {
            table.AddRow(name, $"{totals.Files}", $"{totals.Frames}", $"{totals.Bytes}", $"{totals.FilesOfUnknownSize}");
        }
    }
}
