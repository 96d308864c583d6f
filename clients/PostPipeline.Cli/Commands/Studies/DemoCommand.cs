using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Cli.Notebooks;
using PostPipeline.Notebooks.Runs;
using PostPipeline.Studies;
using PostPipeline.Studies.Outcomes;
using PostPipeline.Studies.Printing;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Studies;

/// <summary><c>demo</c>: the invented production, compared, with a report.</summary>
internal static class DemoCommand
{
    private static readonly Option<string> Out = new("--out")
    {
        Description = "Folder for report.html, compare.ipynb, result.json and brief.yaml; made where it is not there.",
        DefaultValueFactory = _ => "postpipeline-demo",
        HelpName = "DIR",
    };

    private static readonly Option<int> Draws = Studying.Draws(Compare.UsualDraws);
    private static readonly Option<int> Threads = Studying.Threads();

    public static Command Create() => new Command("demo", "Compare the pipelines of an invented production and write a report.") { Out, Draws, Threads }.Runs(async session =>
    {
        int draws = Studying.DrawsOf(session, Draws);
        int threads = Studying.ThreadsOf(session, Threads);
        OutputFolder folder = OutputFolder.Open(session.Line.GetValue(Out)!);
        Comparison comparison = await Studying.CompareAsync(session, Demo.Brief(), draws, threads).ConfigureAwait(false);
        folder.Write("brief.yaml", Demo.BriefText());
        folder.Write("result.json", ResultJson.Of(comparison).ToJsonString(ResultJson.Indented) + "\n");
        RunResult report = await ComparisonReport.RunAsync(session, string.Empty, draws).ConfigureAwait(false);
        folder.Write("report.html", report.ToHtml());
        folder.Write("compare.ipynb", report.ToNotebook());
        if (report.Record.Problem is string problem)
        {
            session.Note($"The report is not complete: {problem}");
        }

        return session.Answer(ResultJson.Schema, ResultJson.Of(comparison), console =>
        {
            ComparisonTables.PrintShort(console, comparison);
            console.WriteLine($"The report is in {folder.Path}: report.html (open it in a browser), compare.ipynb, result.json, brief.yaml. Everything in this demonstration is invented.");
        });
    });
}
