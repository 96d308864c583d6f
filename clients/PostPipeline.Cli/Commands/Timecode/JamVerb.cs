using System.CommandLine;
using PostPipeline.Cli.Commands.Footage;
using PostPipeline.Cli.Frame;
using PostPipeline.Contracts.Timecodes.V1;
using PostPipeline.Quantities;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Timecode;

/// <summary><c>timecode jam</c>: how far two clocks drift apart, and how often to set them to each other.</summary>
internal static class JamVerb
{
    private static readonly Option<string> Ppm = new("--ppm") { Description = "Tolerance of each clock, in parts per million.", Required = true, HelpName = "PPM" };
    private static readonly Option<string?> OtherPpm = new("--other-ppm") { Description = "Tolerance of the other clock, where it differs.", HelpName = "PPM" };
    private static readonly Option<string> Hours = new("--hours") { Description = "Hours since they were set to each other.", Required = true, HelpName = "H" };

    private static readonly Option<string> Budget = new("--budget")
    {
        Description = "Allowed drift in frames.",
        DefaultValueFactory = _ => "1/2",
        HelpName = "FRAMES",
    };

    private sealed record Jam(Exact DriftSeconds, Exact DriftFrames, bool WithinBudget, Exact? LongestIntervalSeconds, long SyncsNeeded);

    public static Command Create() =>
        new Command("jam", "Say how far two clocks drift apart at worst, and how often they must be synchronised.")
        {
            Ppm, OtherPpm, Hours, FormatOptions.Rate, Budget,
        }.Runs(async session =>
        {
            string ppm = session.Line.GetValue(Ppm)!;
            JamSyncQuery query = new()
            {
                FirstPartsPerBillion = PartsPerBillion(Ppm.Name, ppm),
                SecondPartsPerBillion = PartsPerBillion(OtherPpm.Name, session.Line.GetValue(OtherPpm) ?? ppm),
                Rate = FormatOptions.ReadRate(session, FormatOptions.Rate),
                ElapsedSeconds = FormatOptions.Write(3600 * FormatOptions.ReadFraction(Hours.Name, session.Line.GetValue(Hours)!)),
                BudgetFrames = FormatOptions.Write(FormatOptions.ReadFraction(Budget.Name, session.Line.GetValue(Budget)!)),
            };
            TimecodeService.TimecodeServiceClient client = (await session.ClientsAsync().ConfigureAwait(false)).Timecode;
            JamSyncOutcome outcome = (await client.BudgetJamSyncAsync(new() { Queries = { query } }, cancellationToken: session.Cancellation)).Outcomes[0];
            Given.Refuse(outcome.Error);
            JamSyncBudget budget = outcome.Budget;
            Jam jam = new(
                Exact.From(budget.DriftSeconds),
                Exact.From(budget.DriftFrames),
                budget.WithinBudget,
                budget.LongestIntervalSeconds is null ? null : Exact.From(budget.LongestIntervalSeconds),
                budget.SyncsNeeded);
            return session.Answer("postpipeline.timecode.jam/1", jam, console =>
            {
                console.WriteLine($"worst drift {jam.DriftSeconds} s, {jam.DriftFrames} frames: {(jam.WithinBudget ? "within" : "beyond")} the budget");
                console.WriteLine(jam.LongestIntervalSeconds is null
                    ? "these clocks never drift apart"
                    : $"synchronise at least every {RoundedDown(budget.LongestIntervalSeconds!)} h, {jam.SyncsNeeded} times in that stretch");
            });
        });

    // Rounded to the side that keeps the promise.
    private static string RoundedDown(Contracts.Types.V1.Rational seconds) =>
        Exact.From(new Rational((new Rational(seconds.Numerator, seconds.Denominator) / 36).Floor(), 100)).ToString();

    private static long PartsPerBillion(string option, string text)
    {
        Rational parts = 1000 * FormatOptions.ReadFraction(option, text);
        return parts.IsInteger ? parts.Numerator : throw new InputException(InputProblem.Of(option, text, "is finer than a thousandth of a part per million"));
    }
}
