using System.CommandLine;
using System.Text.Json.Nodes;
using PostPipeline.Cli.Frame;
using PostPipeline.Studies;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Printing;
using PostPipeline.Studies.WhatIfs;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Studies;

/// <summary><c>buys</c>: what one more node, 100 TB, a faster link, an assistant buys.</summary>
internal static class BuysCommand
{
    private static readonly Argument<string> File = Studying.BriefFile();
    private static readonly Option<int> Draws = Studying.Draws(1000);
    private static readonly Option<int> Threads = Studying.Threads();

    public static Command Create() => new Command("buys", "Show what one more of each means buys.") { File, Draws, Threads }.Runs(async session =>
    {
        int draws = Studying.DrawsOf(session, Draws);
        int threads = Studying.ThreadsOf(session, Threads);
        Brief brief = BriefReader.ReadFile(session.Line.GetValue(File)!);
        StudyModel model = await Studying.ModelAsync(session, brief).ConfigureAwait(false);
        IReadOnlyList<Purchase> purchases = Buys.Of(model, draws, threads, session.Cancellation);
        return session.Answer(
            "postpipeline.buys/1",
            new JsonObject
            {
                ["purchases"] = new JsonArray([.. purchases.Select(p => (JsonNode)new JsonObject
                {
                    ["what"] = p.What,
                    ["pipeline"] = p.Pipeline,
                    ["delivery_p90_seconds_saved"] = Math.Round(p.SecondsSaved),
                    ["on_time_gained"] = Math.Round(p.OnTimeGained, 6),
                    ["cost_p50_change"] = Math.Round(p.CostChange, 2),
                    ["opens"] = new JsonArray([.. p.Opens.Select(o => (JsonNode)o)]),
                    ["preferred"] = p.Preferred,
                })]),
            },
            console =>
            {
                Table table = new Table().Border(TableBorder.Simple).AddColumns("one more", "pipeline", "delivery P90 earlier by", "P(on time) up by", "cost P50 changes by", "gates opened", "preferred then");
                foreach (Purchase p in purchases)
                {
                    table.AddRow(
                        Markup.Escape(p.What), p.Pipeline, p.SecondsSaved == 0 ? "0" : Numbers.Duration(p.SecondsSaved), $"{Math.Round(p.OnTimeGained * 100)} points",
                        Numbers.Three(p.CostChange), p.Opens.Count == 0 ? "–" : Markup.Escape(string.Join(", ", p.Opens)), p.Preferred);
                }

                console.Write(table);
                console.WriteLine("Zero means that it does not bind. The thing's own price is left out.");
            });
    });
}
