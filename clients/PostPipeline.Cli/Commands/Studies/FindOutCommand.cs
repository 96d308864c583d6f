using System.CommandLine;
using System.Text.Json.Nodes;
using PostPipeline.Cli.Frame;
using PostPipeline.Studies;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Printing;
using PostPipeline.Studies.WhatIfs;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Studies;

/// <summary><c>find-out</c>: which input is worth knowing first.</summary>
internal static class FindOutCommand
{
    private static readonly Argument<string> File = Studying.BriefFile();
    private static readonly Option<int> Draws = Studying.Draws(4000);
    private static readonly Option<int> Threads = Studying.Threads();

    public static Command Create() => new Command("find-out", "Rank the inputs by what knowing them would change.") { File, Draws, Threads }.Runs(async session =>
    {
        int draws = Studying.DrawsOf(session, Draws);
        int threads = Studying.ThreadsOf(session, Threads);
        Brief brief = BriefReader.ReadFile(session.Line.GetValue(File)!);
        StudyModel model = await Studying.ModelAsync(session, brief).ConfigureAwait(false);
        RankedUnknowns ranked = await session.ProgressAsync("weighing the inputs", progress => Task.FromResult(FindOut.Rank(model, draws, threads, progress, session.Cancellation))).ConfigureAwait(false);
        IReadOnlyList<ValueOfKnowing> values = ranked.Inputs;
        return session.Answer(
            "postpipeline.find-out/1",
            new JsonObject
            {
                ["preferred_now"] = ranked.StandsIn ? null : ranked.Now,
                ["held_against"] = ranked.Taken,
                ["open_gates"] = new JsonArray([.. ranked.OpenGates.Select(g => (JsonNode)new JsonObject { ["pipeline"] = g.Pipeline, ["gate"] = g.Name, ["says"] = g.Says })]),
                ["inputs"] = new JsonArray([.. values.Select(v => (JsonNode)new JsonObject
                {
                    ["input"] = v.Input,
                    ["choice_changes"] = Math.Round(v.Changes, 6),
                    ["days_late_saved"] = Math.Round(v.DaysLate, 6),
                    ["money_saved"] = Math.Round(v.Money, 2),
                    ["known"] = v.Known,
                    ["who_knows"] = v.WhoKnows,
                })]),
            },
            console =>
            {
                console.WriteLine(ranked.StandsIn
                    ? $"No pipeline is admissible now. {ranked.Taken} stands in for the choice: of those that fail the fewest gates beside the date it is most likely on time."
                    : $"Held against today's choice, {ranked.Now}.");
                foreach (IGrouping<string, OpenGate> gate in ranked.OpenGates.GroupBy(g => $"{g.Name}: {g.Says}"))
                {
                    console.WriteLine($"Not known whatever the inputs are, so to be found out apart ({string.Join(", ", gate.Select(g => g.Pipeline))}): {gate.Key}.");
                }

                Table table = new Table().Border(TableBorder.Simple).AddColumns("input", "choice changes", "days of lateness saved", $"money saved {Markup.Escape(brief.Currency)}", "known now", "who would know");
                foreach (ValueOfKnowing v in values.Take(15))
                {
                    table.AddRow(Markup.Escape(v.Input), v.Changes > 0 ? Numbers.Percent(v.Changes) : "–", Numbers.Three(Math.Round(v.DaysLate, 3)), Numbers.Three(Math.Round(v.Money)), v.Known, Markup.Escape(v.WhoKnows));
                }

                console.Write(table);
                console.WriteLine(values.All(v => v.Changes <= 0)
                    ? "No single input would change which pipeline is chosen."
                    : "How often knowing an input alone would change the choice, and what that saves on average; below zero where the choice that passes costs more.");
            });
    });
}
