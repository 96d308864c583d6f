using System.CommandLine;
using System.Globalization;
using Grpc.Core;
using PostPipeline.Cli.Frame;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Quantities;
using PostPipeline.Studies.Printing;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Farms;

/// <summary>What the farm verbs share.</summary>
internal static class FarmOptions
{
    /// <summary>The file with the farm and its jobs.</summary>
    public static Argument<string> File { get; } = new("file") { Description = "YAML file with farm: and jobs:. Times are seconds, or carry a unit (45 s, 9.2 h).", HelpName = "FILE" };

    /// <summary>Seed.</summary>
    public static Option<long?> Seed { get; } = new("--seed") { Description = "Seed of every random number; that of the file without it.", HelpName = "N" };

    /// <summary>Replications.</summary>
    public static Option<int?> Replications { get; } = new("--replications") { Description = "Replications; that of the file, else 1000, without it.", HelpName = "N" };

    /// <summary>The date.</summary>
    public static Option<string?> Due { get; } = new("--due") { Description = "Time from the file's epoch by which all must be done, such as 36 h.", HelpName = "TIME" };

    private const int UsualReplications = 1_000;

    /// <summary>The seed that counts.</summary>
    public static long SeedOf(this Session session, long ofFile) => session.Line.GetValue(Seed) ?? ofFile;

    /// <summary>The replications that count.</summary>
    public static int ReplicationsOf(this Session session, int ofFile) => session.Line.GetValue(Replications) ?? (ofFile > 0 ? ofFile : UsualReplications);

    /// <summary>A time of an option in seconds, null where it is not given.</summary>
    public static double? TimeOf(this Session session, Option<string?> option) =>
        session.Line.GetValue(option) is not { } text ? null
        : QuantityText.TryParseTime(text, out Rational seconds, out string problem) ? seconds.ToDouble()
        : throw new InputException(InputProblem.Of(option.Name, text, problem));

    /// <summary>Hours to three digits; "never" where it was not reached.</summary>
    public static string Hours(double seconds) =>
        double.IsPositiveInfinity(seconds) ? "never" : string.Create(CultureInfo.InvariantCulture, $"{Numbers.Three(seconds / 3600)} h");

    /// <summary>A probability that never says 0 or 100 %.</summary>
    public static string Percent(Likelihood? likelihood) =>
        likelihood is null ? string.Empty
        : $"{Numbers.Percent(likelihood.Value)} ({Numbers.Percent(likelihood.Low)} to {Numbers.Percent(likelihood.High)})";

    /// <summary>Prints what the file gave and what had no effect.</summary>
    public static void Print(IAnsiConsole console, IReadOnlyList<string> notes)
    {
        foreach (string note in notes)
        {
            console.WriteLine($"Note: {note}.");
        }
    }

    /// <summary>Reads a stream of progress and one result.</summary>
    public static Task<TResult> LastAsync<TResponse, TResult>(
        AsyncServerStreamingCall<TResponse> call, Func<TResponse, FarmProgress?> progressOf, Func<TResponse, TResult?> resultOf, IProgress<double> progress, CancellationToken token)
        where TResult : class =>
        ProgressCall.LastAsync(call, part => progressOf(part) is { } figure ? (figure.Done, figure.Of) : null, resultOf, progress, token);
}
