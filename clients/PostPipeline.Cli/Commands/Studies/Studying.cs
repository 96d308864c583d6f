using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Studies;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Inputs;
using PostPipeline.Studies.Outcomes;
using PostPipeline.Studies.Preparing;
using PostPipeline.Studies.Printing;

namespace PostPipeline.Cli.Commands.Studies;

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
        return draws is >= 20 and <= DrawSet.MaximumDraws
            ? draws
            : throw new InputException(InputProblem.Of("--draws", $"{draws}", $"allowed is 20 to {DrawSet.MaximumDraws}"));
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

    /// <summary>What the user asked for in an option; what is wrong with it is an error of the option.</summary>
    /// <param name="option">Its name.</param>
    /// <param name="value">What the user wrote there.</param>
    /// <param name="make">Makes something of it.</param>
    public static T Asked<T>(string option, string value, Func<T> make)
    {
        try
        {
            return make();
        }
        catch (ArgumentException error)
        {
            throw new InputException(InputProblem.Of(option, value, WithoutParameter(error)));
        }
        catch (Exception error) when (error is InvalidDataException or IOException or UnauthorizedAccessException)
        {
            throw new InputException(InputProblem.Of(option, value, error.Message));
        }
    }

    /// <summary>An amount with its unit, three digits.</summary>
    public static string Amount(double value, string unit) => unit switch
    {
        "share" => $"{Numbers.Three(value * 100)} %",
        "B" => Numbers.Size(value),
        "B/s" => Numbers.Rate(value),
        _ => $"{Numbers.Three(value)} {unit}".TrimEnd(),
    };

    /// <summary>An output of a sweep for people.</summary>
    public static string Output(StudyModel model, string name, double value) =>
        name.StartsWith("delivery", StringComparison.Ordinal) || name.StartsWith("farm-finish", StringComparison.Ordinal) ? model.Clock.DateText(value)
        : name.StartsWith("on-time", StringComparison.Ordinal) ? Numbers.Percent(value)
        : name.Contains("peak", StringComparison.Ordinal) ? Numbers.Size(value)
        : Numbers.Three(value);

    private static string WithoutParameter(ArgumentException error)
    {
        int end = error.Message.IndexOf(" (Parameter", StringComparison.Ordinal);
        return end < 0 ? error.Message : error.Message[..end];
    }

    private sealed class Notes(Session session) : IProgress<string>
    {
        public void Report(string value) => session.Note($"… {value}");
    }
}
