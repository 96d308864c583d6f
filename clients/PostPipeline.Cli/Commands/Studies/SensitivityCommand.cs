using System.CommandLine;
using System.Numerics;
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
    // Below this share an input is not listed for people; the machine's answer lists all.
    private const double Listed = 0.005;

    private static readonly (string Name, Func<PipelineDraws, double[]> Take, Func<StudyModel, SobolEstimate, string> Says)[] Outputs =
    [
        ("delivery", p => p.Delivered, Dates), ("cost", p => p.Cost, (m, e) => Spread(e, v => Numbers.Money(v, m.Study.Brief.Currency, false))),
        ("online-peak", p => p.OnlinePeak, (_, e) => Spread(e, Numbers.Size)), ("farm-finish", p => p.FarmFinish, Dates),
        ("node-hours", p => p.NodeHours, (_, e) => Spread(e, v => $"{Numbers.Three(v)} node-hours")),
    ];

    private static readonly Argument<string> File = Studying.BriefFile();
    private static readonly Option<int> Threads = Studying.Threads();

    private static readonly Option<string> Of = new("--of") { Description = $"Output: {string.Join(", ", Outputs.Select(o => o.Name))}.", DefaultValueFactory = _ => "delivery", HelpName = "OUTPUT" };

    private static readonly Option<string?> Pipeline = new("--pipeline") { Description = "Pipeline; all of the brief's without it.", HelpName = "NAME" };

    private static readonly Option<int> Points = new("--points") { Description = "Points of a scramble, a power of two from 16 to 65536.", DefaultValueFactory = _ => 256, HelpName = "N" };

    private static readonly Option<int> Scrambles = new("--scrambles") { Description = "Independent scrambles, for the intervals; 3 to 100.", DefaultValueFactory = _ => 8, HelpName = "N" };

    public static Command Create()
    {
        Of.AcceptOnlyFromAmong([.. Outputs.Select(o => o.Name)]);
        return new Command("sensitivity", "Share an output's variance out to the inputs: first-order and total Sobol' indices.") { File, Of, Pipeline, Points, Scrambles, Threads }.Runs(async session =>
        {
            int threads = Studying.ThreadsOf(session, Threads);
            int points = session.Line.GetValue(Points);
            int scrambles = session.Line.GetValue(Scrambles);
            if (points is < 16 or > 65_536 || !BitOperations.IsPow2(points))
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
            long evaluations = Sensitivity.Evaluations(model, points, scrambles);
            if (evaluations > Sensitivity.MaximumEvaluations)
            {
                throw new InputException(InputProblem.Of(
                    "--points", $"{points}", $"with {scrambles} scrambles and {Sensitivity.GroupCount(model)} inputs that is {evaluations} evaluations; allowed is {Sensitivity.MaximumEvaluations}: take fewer points or scrambles"));
            }

            session.Note($"… {evaluations} evaluations of {Sensitivity.GroupCount(model)} inputs and chance; {model.Inputs.Inputs.Count(i => i.IsConstant)} constants are left out");
            string output = session.Line.GetValue(Of)!;
            IReadOnlyList<SobolEstimate> all = await session.ProgressAsync("sharing the variance out", progress => Task.FromResult(
                Sensitivity.Of(model, Outputs.First(o => o.Name == output).Take, points, scrambles, threads, progress, session.Cancellation))).ConfigureAwait(false);
            (string Name, SobolEstimate Estimate)[] answers = [.. model.Pipelines.Zip(all).Where(p => name is null || p.First == name)];
            return session.Answer("postpipeline.sensitivity/1", Result(output, evaluations, answers), console => Print(console, model, output, answers));
        });
    }

    private static JsonObject Result(string output, long evaluations, IEnumerable<(string Name, SobolEstimate Estimate)> answers) => new()
    {
        ["output"] = output,
        ["evaluations"] = evaluations,
        ["pipelines"] = new JsonArray([.. answers.Select(a => (JsonNode)new JsonObject
        {
            ["name"] = a.Name,
            ["mean"] = Rounded(a.Estimate.Mean),
            ["standard_deviation"] = Rounded(Math.Sqrt(a.Estimate.Variance)),
            ["indices"] = new JsonArray([.. a.Estimate.Indices.Select(i => (JsonNode)new JsonObject
            {
                ["input"] = i.Name,
                ["first"] = Math.Round(i.First, 9),
                ["first_half_width"] = Math.Round(i.FirstHalfWidth, 9),
                ["total"] = Math.Round(i.Total, 9),
                ["total_half_width"] = Math.Round(i.TotalHalfWidth, 9),
            })]),
        })]),
    };

    private static void Print(IAnsiConsole console, StudyModel model, string output, IEnumerable<(string Name, SobolEstimate Estimate)> answers)
    {
        foreach ((string name, SobolEstimate estimate) in answers)
        {
            console.WriteLine($"{name}, {output}: {Outputs.First(o => o.Name == output).Says(model, estimate)}");
            if (estimate.Variance <= 0)
            {
                continue;
            }

            Table table = new Table().Border(TableBorder.Simple).AddColumns("input", "alone", "±", "with others", "±");
            foreach (SobolIndex i in estimate.Indices.Where(i => i.Total > Listed))
            {
                table.AddRow(Markup.Escape(i.Name), Numbers.Three(Math.Max(0, i.First)), Numbers.Three(i.FirstHalfWidth), Numbers.Three(i.Total), Numbers.Three(i.TotalHalfWidth));
            }

            console.Write(table);
        }

        console.WriteLine($"Shares of the output's variance with 95 % intervals; inputs below {Numbers.Three(Listed)} are left out. The material stays as expanded.");
    }

    private static string Dates(StudyModel model, SobolEstimate estimate) => estimate.Variance <= 0
        ? $"always {model.Clock.DateText(estimate.Mean)}"
        : $"mean {model.Clock.DateText(estimate.Mean)}, standard deviation {Numbers.Duration(Math.Sqrt(estimate.Variance))}";

    private static string Spread(SobolEstimate estimate, Func<double, string> text) => estimate.Variance <= 0
        ? $"always {text(estimate.Mean)}"
        : $"mean {text(estimate.Mean)}, standard deviation {text(Math.Sqrt(estimate.Variance))}";

    private static double Rounded(double value) => double.Parse(value.ToString("G9", System.Globalization.CultureInfo.InvariantCulture), System.Globalization.CultureInfo.InvariantCulture);
}
