using System.CommandLine;
using System.Globalization;
using System.Text.Json.Nodes;
using PostPipeline.Cli.Frame;
using PostPipeline.Studies;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.WhatIfs;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Studies;

/// <summary><c>sweep</c>: one or two inputs over a grid, any outputs.</summary>
internal static class SweepCommand
{
    private static readonly Argument<string> File = Studying.BriefFile();
    private static readonly Option<int> Draws = Studying.Draws(1000);
    private static readonly Option<int> Threads = Studying.Threads();

    private static readonly Option<string[]> Over = new("--over")
    {
        Description = "INPUT=from:to:count or INPUT=a,b,c, once or twice; inputs by the keys that 'check --inputs' lists, and the means such as farm.nodes.NAME.",
        HelpName = "AXIS",
        Required = true,
    };

    private static readonly Option<string[]> Show = new("--show")
    {
        Description = $"Outputs: {string.Join(", ", Sweep.OutputNames)}.",
        HelpName = "OUTPUT",
        AllowMultipleArgumentsPerToken = true,
        DefaultValueFactory = _ => ["delivery-p90", "on-time", "cost-p50"],
    };

    private static readonly Option<string?> Record = new("--record")
    {
        Description = "A CSV that every finished cell is written to; a sweep that was stopped goes on from it.",
        HelpName = "FILE",
    };

    public static Command Create() => new Command("sweep", "Vary one or two inputs over a grid.") { File, Over, Show, Record, Draws, Threads }.Runs(async session =>
    {
        int draws = Studying.DrawsOf(session, Draws);
        int threads = Studying.ThreadsOf(session, Threads);
        string[] outputs = session.Line.GetValue(Show)!;
        if (outputs.FirstOrDefault(o => !Sweep.OutputNames.Contains(o)) is { } wrong)
        {
            throw new InputException(InputProblem.Of("--show", wrong, $"allowed is {string.Join(", ", Sweep.OutputNames)}"));
        }

        Brief brief = BriefReader.ReadFile(session.Line.GetValue(File)!);
        StudyModel model = await Studying.ModelAsync(session, brief).ConfigureAwait(false);
        SweepAxis[] axes = [.. session.Line.GetValue(Over)!.Select(t => Studying.Asked("--over", t, () => SweepAxis.Parse(model, t)))];
        Sweep sweep = Studying.Asked("--over", string.Join(" and ", session.Line.GetValue(Over)!), () => new Sweep(model, axes, outputs, draws));
        SortedDictionary<int, SweepCell> cells = await session.ProgressAsync("sweeping", progress => Task.FromResult(Run(session, sweep, model, threads, progress))).ConfigureAwait(false);
        return session.Answer("postpipeline.sweep/1", Result(sweep, model, cells.Values), console => Print(console, sweep, model, cells.Values));
    });

    private static SortedDictionary<int, SweepCell> Run(Session session, Sweep sweep, StudyModel model, int threads, IProgress<double> progress)
    {
        SortedDictionary<int, SweepCell> cells = [];
        string? path = session.Line.GetValue(Record);
        using SweepRecord? record = path is null ? null : Studying.Asked("--record", path, () => SweepRecord.Open(path, sweep, model.Pipelines));
        foreach (SweepCell cell in record?.Recorded.Values ?? [])
        {
            cells[cell.Number] = cell;
        }

        HashSet<int> recorded = [.. cells.Keys];
        if (recorded.Count > 0)
        {
            session.Note($"{recorded.Count} of {sweep.Cells} cells stand in the record");
        }

        sweep.Run(recorded, cell =>
        {
            record?.Add(cell);
            cells[cell.Number] = cell;
            progress.Report((double)cells.Count / sweep.Cells);
        }, threads, cancellation: session.Cancellation);
        return cells;
    }

    private static JsonObject Result(Sweep sweep, StudyModel model, IEnumerable<SweepCell> cells) => new()
    {
        ["axes"] = new JsonArray([.. sweep.Axes.Select(a => (JsonNode)new JsonObject { ["input"] = a.Input, ["values"] = new JsonArray([.. a.Values.Select(v => (JsonNode)v)]) })]),
        ["outputs"] = new JsonArray([.. sweep.Outputs.Select(o => (JsonNode)o)]),
        ["pipelines"] = new JsonArray([.. model.Pipelines.Select(o => (JsonNode)o)]),
        ["cells"] = new JsonArray([.. cells.Select(c => (JsonNode)new JsonObject
        {
            ["values"] = new JsonArray([.. c.Values.Select(v => (JsonNode)v)]),
            ["preferred"] = c.Preferred,
            ["outputs"] = new JsonArray([.. c.Outputs.Select(p => (JsonNode)new JsonArray([.. p.Select(v => (JsonNode)Math.Round(v, 6))]))]),
        })]),
    };

    private static void Print(IAnsiConsole console, Sweep sweep, StudyModel model, IEnumerable<SweepCell> cells)
    {
        Table table = new Table().Border(TableBorder.Simple).AddColumns([
            .. sweep.Axes.Select(a => Markup.Escape(a.Input)), "preferred", .. model.Pipelines.SelectMany(p => sweep.Outputs.Select(o => Markup.Escape($"{p} {o}")))]);
        foreach (SweepCell cell in cells)
        {
            table.AddRow([
                .. cell.Values.Select(v => v.ToString("G6", CultureInfo.InvariantCulture)),
                Markup.Escape(cell.Preferred),
                .. cell.Outputs.SelectMany(p => p.Select((v, o) => Markup.Escape(Studying.Output(model, sweep.Outputs[o], v))))]);
        }

        console.Write(table);
    }
}
