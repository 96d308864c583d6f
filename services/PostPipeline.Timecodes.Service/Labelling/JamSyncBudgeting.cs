using PostPipeline.Hosting.Validation;
using PostPipeline.Quantities;
using PostPipeline.Timecodes.Synchronization;
using Wire = PostPipeline.Contracts.Timecodes.V1;

namespace PostPipeline.Timecodes.Service.Labelling;

/// <summary>Reads one pair of clocks and says how far they drift apart.</summary>
internal static class JamSyncBudgeting
{
    private const long BillionthsOfOne = 1_000_000_000;
    private const long BillionthsPerMillionth = 1000;

    /// <summary>The budget, or null where violations were recorded.</summary>
    public static Wire.JamSyncBudget? Budget(Wire.JamSyncQuery query, Violations violations)
    {
        LabelReader reader = new(violations);
        violations.InRange("first_parts_per_billion", query.FirstPartsPerBillion, 0, BillionthsOfOne);
        violations.InRange("second_parts_per_billion", query.SecondPartsPerBillion, 0, BillionthsOfOne);
        FrameRate? rate = reader.Rate("rate", query.Rate);
        Rational? elapsed = reader.Fraction("elapsed_seconds", query.ElapsedSeconds);
        Rational? budget = reader.Fraction("budget_frames", query.BudgetFrames);
        violations.Require("elapsed_seconds", elapsed is null or { Sign: >= 0 }, $"is {elapsed}; allowed is 0 or more");
        violations.Require("budget_frames", budget is null or { Sign: > 0 }, $"is {budget}; allowed is above 0");
        if (!violations.None)
        {
            return null;
        }

        JamSyncPair pair = JamSyncPair.From(
            new(query.FirstPartsPerBillion, BillionthsPerMillionth), new(query.SecondPartsPerBillion, BillionthsPerMillionth));
        Rational drift = pair.DriftFramesAfter(elapsed!.Value, rate!.Value);
        return new()
        {
            DriftSeconds = LabelWriter.Write(pair.DriftSecondsAfter(elapsed.Value)),
            DriftFrames = LabelWriter.Write(drift),
            LongestIntervalSeconds = pair.LongestIntervalSeconds(budget!.Value, rate.Value) is { } longest ? LabelWriter.Write(longest) : null,
            SyncsNeeded = pair.SyncsNeeded(elapsed.Value, budget.Value, rate.Value),
            WithinBudget = drift <= budget.Value,
        };
    }
}
