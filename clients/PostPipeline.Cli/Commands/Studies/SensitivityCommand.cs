using System.CommandLine;
using System.Text.Json.Nodes;
using PostPipeline.Cli.Frame;
using PostPipeline.Studies;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Printing;
using PostPipeline.Studies.Sensitivities;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Studies;

/// <summary><c>sensitivity</c>: which inputs an output hangs on.</summary>
internal static class SensitivityCommand
{
    private static readonly (string Name, Func<PipelineDraws, double[]> Take)[] Outputs =
    [
        ("delivery", p => p.Delivered), ("cost", p => p.Cost), ("online-peak", p => p.OnlinePeak), ("farm-finish", p => p.FarmFinish), ("node-hours", p => p.NodeHours),
    ];

    private static readonly Argument<string> File = Studying.BriefFile();
    private static readonly Option<int> Threads = Studying.Threads();

    private static readonly Option<string> Of = new("--of") { Description = "Output.", DefaultValueFactory = _ => "delivery", HelpName = "OUTPUT" };

    private static readonly Option<string?> Pipeline = new("--pipeline") { Description = "Pipeline; all of the brief's without it.", HelpName = "NAME" };

    private static readonly Option<int> Points = new("--points") { Description = "Points of a scramble, a power of two.", DefaultValueFactory = _ => 256, HelpName = "N" };

    private static readonly Option<int> Scrambles = new("--scrambles") { Description = "Independent scrambles, for the intervals.", DefaultValueFactory = _ => 8, HelpName = "N" };

    public static Command Create()
    {
        Of.AcceptOnlyFromAmong([.. Outputs.Select(o => o.Name)]);
        return new Command("sensitivity", "Share an output's variance out to the inputs: first-order and total Sobol' indices.") { File, Of, Pipeline, Points, Scrambles, Threads }.Runs(async session =>
        {
            int threads = Studying.ThreadsOf(session, Threads);
            int points = session.Line.GetValue(Points);
            int scrambles = session.Line.GetValue(Scrambles);
            if (points is < 16 or > 65_536 || !System.Numerics.BitOperations.IsPow2(points))
            {
                throw new InputException(InputProblem.Of("--points", $"{points}", "allowed is a power of two from 16 to 65536"));
            }

            if (scrambles is < 3 or > 100)
            {
                throw new InputException(InputProblem.Of("--scrambles", $"{scrambles}", "allowed is 3 to 100"));
            }

            Brief brief = BriefReader.ReadFile(session.Line.GetValue(File)!);
            string? name = session.Line.GetValue(Pipeline);
            if (name is not null && !brief.Pipelines.Contains(name))
            {
                throw new InputException(InputProblem.Of("--pipeline", name, $"the brief compares {string.Join(", ", brief.Pipelines)}"));
            }

            StudyModel model = await Studying.ModelAsync(session, brief).ConfigureAwait(false);
            Func<PipelineDraws, double[]> take = Outputs.First(o => o.Name == session.Line.GetValue(Of)).Take;
            (string Name, IReadOnlyList<SobolIndex> Indices)[] answers = [.. model.Pipelines.Select((p, i) => (p, i)).Where(p => name is null || p.p == name)
                .Select(p => (p.p, Sensitivity.Of(model, take, p.i, points, scrambles, threads, session.Cancellation)))];
            return session.Answer("postpipeline.sensitivity/1", Result(session.Line.GetValue(Of)!, answers), console => Print(console, answers));
        });
    }

    private static JsonObject Result(string output, IEnumerable<(string Name, IReadOnlyList<SobolIndex> Indices)> answers) => new()
    {
        ["output"] = output,
        ["pipelines"] = new JsonArray([.. answers.Select(a => (JsonNode)new JsonObject
        {
            ["name"] = a.Name,
            ["indices"] = new JsonArray([.. a.Indices.Select(i => (JsonNode)new JsonObject
            {
                ["input"] = i.Name,
                ["first"] = Math.Round(i.First, 9),
                ["first_half_width"] = Math.Round(i.FirstHalfWidth, 9),
                ["total"] = Math.Round(i.Total, 9),
                ["total_half_width"] = Math.Round(i.TotalHalfWidth, 9),
            })]),
        })]),
    };

    private static void Print(IAnsiConsole console, IEnumerable<(string Name, IReadOnlyList<SobolIndex> Indices)> answers)
    {
        foreach ((string name, IReadOnlyList<SobolIndex> indices) in answers)
        {
            console.WriteLine(name);
            Table table = new Table().Border(TableBorder.Simple).AddColumns("input", "alone", "±", "with others", "±");
            foreach (SobolIndex i in indices.Where(i => i.Total > 0.005))
            {
                table.AddRow(Markup.Escape(i.Name), Numbers.Three(Math.Max(0, i.First)), Numbers.Three(i.FirstHalfWidth), Numbers.Three(i.Total), Numbers.Three(i.TotalHalfWidth));
            }

            console.Write(table);
        }

        console.WriteLine("Shares of the output's variance with 95 % intervals; inputs below 0.005 are left out. The material stays as expanded.");
    }
}
