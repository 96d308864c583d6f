using System.CommandLine;
using System.Text.Json.Nodes;
using PostPipeline.Cli.Frame;
using PostPipeline.Quantities;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Printing;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Studies;

/// <summary><c>check</c>: is a brief valid, and what does it leave to defaults?</summary>
internal static class CheckCommand
{
    private static readonly Argument<string> File = Studying.BriefFile();

    private static readonly Option<bool> Inputs = new("--inputs") { Description = "List every input with its range and how it is known." };

    public static Command Create() => new Command("check", "Check a brief and say how sure its inputs are.") { File, Inputs }.Runs(session =>
    {
        Brief brief = BriefReader.ReadFile(session.Line.GetValue(File)!);
        bool list = session.Line.GetValue(Inputs);
        return Task.FromResult(session.Answer("postpipeline.check/1", Result(brief), console => Print(console, brief, list)));
    });

    private static JsonObject Result(Brief brief) => new()
    {
        ["title"] = brief.Title,
        ["valid"] = true,
        ["inputs"] = new JsonArray([.. brief.Inputs.Select(i => (JsonNode)new JsonObject
        {
            ["key"] = i.Key,
            ["low"] = i.Low,
            ["likely"] = i.Likely,
            ["high"] = i.High,
            ["unit"] = i.Unit,
            ["known"] = i.Known.ToString().ToLowerInvariant(),
            ["unknown"] = i.IsUnknown,
        })]),
    };

    private static void Print(IAnsiConsole console, Brief brief, bool list)
    {
        int Count(Known known) => brief.Inputs.Count(i => i.Known == known);
        console.MarkupLineInterpolated($"{brief.Title}: valid. Of {brief.Inputs.Count} inputs {Count(Known.Measured)} are measured, {Count(Known.Quoted)} quoted, {Count(Known.Guessed)} guessed, {Count(Known.Invented)} invented defaults; {brief.Inputs.Count(i => i.IsUnknown)} are unknown.");
        if (!list)
        {
            return;
        }

        Table table = new Table().Border(TableBorder.Simple).AddColumns("input", "low", "likely", "high", "unit", "known", "from");
        foreach (Estimate input in brief.Inputs)
        {
            string Cell(double value) => Markup.Escape(Numbers.Three(value));
            table.AddRow(
                Markup.Escape(input.Key), Cell(input.Low), Cell(input.Likely), Cell(input.High), Markup.Escape(input.Unit),
                input.IsUnknown ? "unknown" : input.Known.ToString().ToLowerInvariant(), Markup.Escape(input.Origin));
        }

        console.Write(table);
    }
}
