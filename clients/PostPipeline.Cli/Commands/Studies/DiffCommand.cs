using System.CommandLine;
using System.Text.Json.Nodes;
using PostPipeline.Cli.Frame;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Outcomes;
using PostPipeline.Studies.Printing;
using PostPipeline.Studies.WhatIfs;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Studies;

/// <summary><c>diff</c>: what moves between two briefs, and why.</summary>
internal static class DiffCommand
{
    private static readonly Argument<string> Before = new("before") { Description = "The first brief." };
    private static readonly Argument<string> After = new("after") { Description = "The second brief." };
    private static readonly Option<int> Draws = Studying.Draws(Compare.UsualDraws);
    private static readonly Option<int> Threads = Studying.Threads();

    public static Command Create() => new Command("diff", "Show only what moves between two briefs' outcomes, and why.") { Before, After, Draws, Threads }.Runs(async session =>
    {
        int draws = Studying.DrawsOf(session, Draws);
        int threads = Studying.ThreadsOf(session, Threads);
        Brief first = BriefReader.ReadFile(session.Line.GetValue(Before)!);
        Brief second = BriefReader.ReadFile(session.Line.GetValue(After)!);
        Comparison before = await Studying.CompareAsync(session, first, draws, threads).ConfigureAwait(false);
        Comparison after = await Studying.CompareAsync(session, second, draws, threads).ConfigureAwait(false);
        Difference difference = Difference.Of(before, after);
        return session.Answer("postpipeline.diff/1", Result(difference), console => Print(console, difference));
    });

    private static JsonObject Result(Difference difference) => new()
    {
        ["outcomes"] = new JsonArray([.. difference.Outcomes.Select(o => (JsonNode)new JsonObject { ["pipeline"] = o.Pipeline, ["what"] = o.What, ["before"] = o.Before, ["after"] = o.After })]),
        ["tried_on"] = difference.Pipeline,
        ["inputs"] = new JsonArray([.. difference.Inputs.Select(i => (JsonNode)new JsonObject
        {
            ["input"] = i.Input,
            ["before"] = i.Before,
            ["after"] = i.After,
            ["delivery_p90_seconds"] = double.IsNaN(i.DeliverySeconds) ? null : Math.Round(i.DeliverySeconds),
            ["cost_p50"] = double.IsNaN(i.Cost) ? null : Math.Round(i.Cost, 2),
        })]),
    };

    private static void Print(IAnsiConsole console, Difference difference)
    {
        if (difference.Outcomes.Count == 0)
        {
            console.WriteLine("Nothing moves.");
        }

        Table outcomes = new Table().Border(TableBorder.Simple).AddColumns("pipeline", "what", "before", "after");
        foreach (MovedOutcome o in difference.Outcomes)
        {
            outcomes.AddRow(new[] { o.Pipeline, o.What, o.Before, o.After }.Select(Markup.Escape).ToArray());
        }

        console.Write(outcomes);
        Table inputs = new Table().Border(TableBorder.Simple).AddColumns("input", "before", "after", $"alone moves delivery P90 of {Markup.Escape(difference.Pipeline)}", "alone moves cost P50");
        foreach (MovedInput i in difference.Inputs)
        {
            inputs.AddRow(new[]
            {
                i.Input, i.Before.Length == 0 ? "–" : i.Before, i.After.Length == 0 ? "–" : i.After,
                double.IsNaN(i.DeliverySeconds) ? "cannot be tried alone" : i.DeliverySeconds == 0 ? "0" : (i.DeliverySeconds > 0 ? "+" : string.Empty) + Numbers.Duration(i.DeliverySeconds),
                double.IsNaN(i.Cost) ? "–" : Numbers.Three(i.Cost),
            }.Select(Markup.Escape).ToArray());
        }

        console.Write(inputs);
        if (difference.Inputs.Count == 0)
        {
            console.WriteLine("No number of the model differs; what moved comes from the material (days, cameras, modes, dates).");
        }
    }
}
