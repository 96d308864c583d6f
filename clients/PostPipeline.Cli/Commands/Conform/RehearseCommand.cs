using System.CommandLine;
using PostPipeline.Cli.Commands.Studies;
using PostPipeline.Cli.Frame;
using PostPipeline.Studies;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Preparing;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Conform;

/// <summary><c>rehearse</c>: the conform check on the clips that a brief would make, before anything is shot.</summary>
internal static class RehearseCommand
{
    private static readonly Argument<string> File = Studying.BriefFile();

    private sealed record Finding(string Name, string Verdict, string Camera, int FirstDay, long Takes, int Events, string Description, string Remedy);

    private sealed record Result(string Proxies, string Verdict, int Events, int ProblemEvents, int ProblemEventsBest, IReadOnlyList<Finding> Findings);

    public static Command Create() =>
        new Command("rehearse", "Check before the shoot whether a cut of the planned clips would conform, and which setting mends what would not.") { File }.Runs(async session =>
        {
            Brief brief = BriefReader.ReadFile(session.Line.GetValue(File)!);
            Preparation preparation = new(await session.ClientsAsync().ConfigureAwait(false));
            IReadOnlyDictionary<string, RehearsalFacts> rehearsals = await preparation.RehearseAsync(brief, session.Cancellation).ConfigureAwait(false);
            List<Result> results =
            [
                .. rehearsals.Select(r => new Result(
                    r.Key,
                    Verdict(r.Value.Passes),
                    r.Value.Events,
                    r.Value.ProblemEvents,
                    r.Value.ProblemEventsBest,
                    [.. r.Value.Findings.Select(f => new Finding(f.Name, f.Fails ? "fail" : "unknown", f.Camera, f.FirstDay, f.Takes, f.Events, f.Description, f.Remedy))])),
            ];
            return session.Answer("postpipeline.rehearsal/1", results, console => Print(console, results), results.TrueForAll(r => r.Verdict == "pass") ? ExitCode.Done : ExitCode.No);
        });

    private static string Verdict(bool? passes) => passes switch { true => "pass", false => "fail", null => "unknown" };

    private static void Print(IAnsiConsole console, List<Result> results)
    {
        if (results.Count == 0)
        {
            console.WriteLine("No pipeline of the brief cuts with proxies, so there is nothing to rehearse.");
        }

        foreach (Result result in results)
        {
            console.WriteLine($"Proxies {result.Proxies}: {result.Verdict}. {result.ProblemEvents} of {result.Events} events would need a person in the worst possible behaviour, {result.ProblemEventsBest} in the best.");
            if (result.Findings.Count > 0)
            {
                Table table = new Table().Border(TableBorder.Simple).AddColumns("finding", "verdict", "camera", "first day", "takes", "events", "what would happen", "what mends it");
                foreach (Finding f in result.Findings)
                {
                    table.AddRow(f.Name, f.Verdict, Markup.Escape(f.Camera), f.FirstDay < 0 ? string.Empty : $"{f.FirstDay + 1}", $"{f.Takes}", $"{f.Events}", Markup.Escape(f.Description), Markup.Escape(f.Remedy));
                }

                console.Write(table);
            }
        }
    }
}
