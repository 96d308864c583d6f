using System.CommandLine;
using System.Globalization;
using System.Text.Json.Nodes;
using PostPipeline.Cli.Frame;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Outcomes;
using PostPipeline.Studies.Printing;
using PostPipeline.Studies.Reforecasts;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Studies;

/// <summary><c>print</c>: pages to hand over.</summary>
internal static class PrintCommand
{
    private static readonly Argument<string> Kind = new("kind") { Description = string.Join("; ", Pages.KindNames.Select(k => $"{k}: {Pages.Describe(k)}")) + "; or all." };
    private static readonly Argument<string> File = Studying.BriefFile();
    private static readonly Option<int> Draws = Studying.Draws(Compare.UsualDraws);
    private static readonly Option<int> Threads = Studying.Threads();

    private static readonly Option<string> Out = new("--out") { Description = "Folder for the pages; made where it is not there.", DefaultValueFactory = _ => ".", HelpName = "DIR" };

    private static readonly Option<string> Revision = new("--revision") { Description = "The revision that stands in the footer.", DefaultValueFactory = _ => "1", HelpName = "TEXT" };

    public static Command Create()
    {
        Kind.AcceptOnlyFromAmong([.. Pages.KindNames, "all"]);
        return new Command("print", "Write pages to hand over, as HTML for A4 or Letter.") { Kind, File, Out, Revision, Draws, Threads }.Runs(async session =>
        {
            int draws = Studying.DrawsOf(session, Draws);
            int threads = Studying.ThreadsOf(session, Threads);
            string path = session.Line.GetValue(File)!;
            string text = BriefText.Read(path);
            Brief brief = BriefReader.Read(path, text);
            OutputFolder folder = OutputFolder.Open(session.Line.GetValue(Out)!);
            Comparison comparison = await Studying.CompareAsync(session, brief, draws, threads).ConfigureAwait(false);
            PageFooter footer = new(session.Line.GetValue(Revision)!, TimeProvider.System.GetLocalNow().ToString("yyyy-MM-dd", CultureInfo.InvariantCulture), Baseline.Digest(text));
            string kind = session.Line.GetValue(Kind)!;
            string[] written = [.. Pages.KindNames.Where(k => kind == "all" || k == kind)];
            foreach (string name in written)
            {
                folder.Write($"{name}.html", Pages.Of(name, comparison, footer));
            }

            return session.Answer(
                "postpipeline.print/1",
                new JsonObject { ["pages"] = new JsonArray([.. written.Select(w => (JsonNode)$"{w}.html")]) },
                console => console.WriteLine($"Written to {folder.Path}: {string.Join(", ", written.Select(w => $"{w}.html"))}"));
        });
    }
}
