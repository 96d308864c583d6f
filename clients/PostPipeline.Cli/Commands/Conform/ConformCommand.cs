using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Client.Conforming;
using PostPipeline.Contracts.Timecodes.V1;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Conform;

/// <summary><c>conform</c>: which clip each event of a cut comes from, and what a person must look at.</summary>
internal static class ConformCommand
{
    private const int RowsShown = 50;

    private static readonly Option<bool> Strict = new("--strict") { Description = "Also list every place where the edit list is not written as the standard has it." };
    private static readonly Option<bool> All = new("--all") { Description = "List every event, not only those that need a person." };

    private sealed record Place(string File, int Line, int Column, string Field, string Message);

    private sealed record Row(string Number, int Line, string Reel, string ClipName, string RecordIn, string SourceIn, long SourceFrames, string Outcome, int Rung, string FoundClip, string FoundReel, int Candidates, long FirstFrame, long Frames, long HandleBefore, long HandleBehind, bool NeedsPerson, IReadOnlyList<string> Findings, string NextStep);

    private sealed record Change(string What, string OldNumber, string NewNumber, string Clip, string RecordIn, long RecordShift, bool KeepsOrder, long HeadFrames, long TailFrames, bool TransitionChanged, long FramesToRender);

    private sealed record Result(
        string Title,
        int Events,
        int EventsForPerson,
        IReadOnlyDictionary<string, int> Outcomes,
        int Clips,
        int ChunkedTakes,
        int IncompleteTakes,
        int Proxies,
        int ProxiesThatServe,
        int OriginalsWithoutProxy,
        long RecordGapFrames,
        IReadOnlyList<string> RatesAllowed,
        IReadOnlyList<string> UnmappedHeaders,
        IReadOnlyList<string> Nested,
        IReadOnlyList<string> UnknownSchemas,
        IReadOnlyList<Place> Deviations,
        IReadOnlyList<Row> Rows,
        long? FramesToRender,
        long? FramesFromFirstChange,
        IReadOnlyList<Change> Changes);

    public static Command Create() =>
        new Command("conform", "Match a cut with the clips that are there: outcome and next step for each event.")
        {
            CutOptions.Cut, CutOptions.Inventory, CutOptions.Rate, CutOptions.Drop, CutOptions.Old, CutOptions.Handles, CutOptions.Against,
            Strict, All, CutOptions.Map, CutOptions.Set, CutOptions.Word,
        }.Runs(async session =>
        {
            ConformSettings settings = CutOptions.Settings(session);
            settings.Strict = session.Line.GetValue(Strict);
            settings.AllEvents = session.Line.GetValue(All);
            ConformAnswer answer = await CutRun.AnswerAsync(session, settings).ConfigureAwait(false);
            return session.Answer("postpipeline.conform/1", Of(answer), console => Print(console, answer), answer.Summary.EventsForPerson > 0 ? ExitCode.No : ExitCode.Done);
        });

    private static Result Of(ConformAnswer answer)
    {
        ConformSummary s = answer.Summary;
        return new(
            s.Title,
            s.Events,
            s.EventsForPerson,
            s.Classes.ToDictionary(c => c.Description, c => c.Events),
            s.Clips,
            s.ChunkedTakes,
            s.IncompleteTakes,
            s.Proxies,
            s.ProxiesThatServe,
            s.OriginalsWithoutProxy,
            s.RecordGapFrames,
            [.. s.RatesAllowed.Select(r => r.Denominator == 1 ? $"{r.Numerator}" : $"{r.Numerator}/{r.Denominator}")],
            s.UnmappedHeaders,
            s.Nested,
            s.UnknownSchemas,
            [.. answer.Problems.Select(p => new Place($"{p.File}".ToLowerInvariant(), p.Line, p.Column, p.Field, p.Message))],
            [.. answer.Events.Select(e => new Row(e.Number, e.Line, e.Reel, e.ClipName, e.RecordIn, e.SourceIn, e.SourceFrames, Words(e, s), e.Rung, e.FoundClip, e.FoundReel, e.Candidates, e.FirstFrame, e.Frames, e.HandleBefore, e.HandleBehind, e.NeedsPerson, e.Findings, e.NextStep))],
            s.Difference?.FramesToRender,
            s.Difference?.FramesFromFirstChange,
            [.. answer.Changes.Select(c => new Change($"{c.Change}".ToLowerInvariant(), c.OldNumber, c.NewNumber, c.Clip, c.RecordIn, c.RecordShift, c.KeepsOrder, c.HeadFrames, c.TailFrames, c.TransitionChanged, c.FramesToRender))]);
    }

    private static string Words(EventRow row, ConformSummary summary) => summary.Classes.First(c => c.Class == row.Class).Description;

    private static void Print(IAnsiConsole console, ConformAnswer answer)
    {
        foreach (FileProblem problem in answer.Problems.Take(RowsShown))
        {
            console.WriteLine($"{(problem.Line > 0 ? $"line {problem.Line}, column {problem.Column}" : problem.Field)}: {problem.Message}");
        }

        CutRun.Rest(console, answer.Problems.Count);
        if (answer.Events.Count > 0)
        {
            Table table = new Table().Border(TableBorder.Simple).AddColumns("event", "line", "reel", "clip", "source in", "outcome", "rung", "found", "next step");
            foreach (EventRow row in answer.Events.Take(RowsShown))
            {
                table.AddRow(row.Number, $"{row.Line}", Markup.Escape(row.Reel), Markup.Escape(row.ClipName), row.SourceIn, Words(row, answer.Summary), $"{row.Rung}", Markup.Escape(row.FoundClip), Markup.Escape(row.NextStep));
            }

            console.Write(table);
            CutRun.Rest(console, answer.Events.Count);
        }

        CutRun.PrintClasses(console, answer.Summary);
        CutRun.PrintChanges(console, answer);
    }
}
