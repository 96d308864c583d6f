using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Studies;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Outcomes;
using PostPipeline.Studies.Preparing;

namespace PostPipeline.Cli.Commands;

/// <summary>What every verb on a brief shares: its arguments, and the way from a brief to a model.</summary>
internal static class Studying
{
    public static Argument<string> BriefFile() => new("brief") { Description = "The brief, a YAML file." };

    public static Option<int> Draws(int usual) => new("--draws")
    {
        Description = $"Draws of the uncertain inputs; {usual} without it.",
        DefaultValueFactory = _ => usual,
        HelpName = "N",
    };

    public static Option<int> Threads() => new("--threads")
    {
        Description = "Threads to use; the answer does not hang on it.",
        DefaultValueFactory = _ => Environment.ProcessorCount,
        HelpName = "N",
    };

    public static int DrawsOf(Session session, Option<int> option)
    {
        int draws = session.Line.GetValue(option);
        return draws is >= 20 and <= Studies.Inputs.DrawSet.MaximumDraws
            ? draws
            : throw new InputException(InputProblem.Of("--draws", $"{draws}", $"allowed is 20 to {Studies.Inputs.DrawSet.MaximumDraws}"));
    }

    public static int ThreadsOf(Session session, Option<int> option)
    {
        int threads = session.Line.GetValue(option);
        return threads is >= 1 and <= 256 ? threads : throw new InputException(InputProblem.Of("--threads", $"{threads}", "allowed is 1 to 256"));
    }

    /// <summary>Makes the calls behind a brief.</summary>
    public static async Task<StudyModel> ModelAsync(Session session, Brief brief)
    {
        Preparation preparation = new(await session.ClientsAsync().ConfigureAwait(false));
        return new(await preparation.PrepareAsync(brief, progress: new Notes(session), cancellation: session.Cancellation).ConfigureAwait(false));
    }

    /// <summary>Compares the brief's pipelines.</summary>
    public static async Task<Comparison> CompareAsync(Session session, Brief brief, int draws, int threads) =>
        Compare.Run(await ModelAsync(session, brief).ConfigureAwait(false), draws, threads, session.Cancellation);

    private sealed class Notes(Session session) : IProgress<string>
    {
        public void Report(string value) => session.Note($"… {value}");
    }
}
