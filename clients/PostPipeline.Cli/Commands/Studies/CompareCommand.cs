using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Derivations;
using PostPipeline.Studies.Outcomes;
using PostPipeline.Studies.Printing;

namespace PostPipeline.Cli.Commands.Studies;

/// <summary><c>compare</c>: one brief, its pipelines side by side, which is preferred and why.</summary>
internal static class CompareCommand
{
    private static readonly Argument<string> File = Studying.BriefFile();
    private static readonly Option<int> Draws = Studying.Draws(Compare.UsualDraws);
    private static readonly Option<int> Threads = Studying.Threads();

    private static readonly Option<string?> WhyName = new("--why")
    {
        Description = $"Also show the tree behind a number: {string.Join(", ", Why.Names)}.",
        HelpName = "NAME",
    };

    public static Command Create()
    {
        return new Command("compare", "Compare the pipelines of a brief: dates, storage, money, gates, limits.") { File, Draws, Threads, WhyName }.Runs(async session =>
        {
            int draws = Studying.DrawsOf(session, Draws);
            int threads = Studying.ThreadsOf(session, Threads);
            string? why = session.Line.GetValue(WhyName);
            CheckWhy(why);
            Comparison comparison = await Studying.CompareAsync(session, BriefReader.ReadFile(session.Line.GetValue(File)!), draws, threads).ConfigureAwait(false);
            return session.Answer(ResultJson.Schema, ResultJson.Of(comparison, why), console => ComparisonTables.Print(console, comparison, why), comparison.Preferred is null ? ExitCode.No : ExitCode.Done);
        });
    }

    /// <summary>Refuses a number that cannot be explained before anything is computed.</summary>
    public static void CheckWhy(string? name)
    {
        if (name is not null && !Why.Names.Contains(name))
        {
            throw new InputException(InputProblem.Of("--why", name, $"allowed is {string.Join(", ", Why.Names)}"));
        }
    }
}
