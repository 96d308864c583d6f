using System.Globalization;
using PostPipeline.Notebooks.Charts;
using PostPipeline.Quantities;
using PostPipeline.Studies.Outcomes;
using Labels = PostPipeline.Contracts.Timecodes.V1.LabelSpan;
using Numbers = PostPipeline.Studies.Printing.Numbers;
using Range = PostPipeline.Studies.Outcomes.Range;
using Tree = PostPipeline.Studies.Derivations.Derivation;

namespace PostPipeline.Notebooks.Rendering;

/// <summary>How a notebook shows the types of the suite: as a sentence's worth of text, a table, or a tree that unfolds.</summary>
internal static class OwnTypes
{
    /// <summary>What is shown in place of a value: a text, a table or a tree; null for a type that is not of the suite.</summary>
    /// <param name="value">The value.</param>
    public static object? Shown(object value) => value switch
    {
        Comparison comparison => Outcomes(comparison.Pipelines),
        PipelineOutcome outcome => Outcome(outcome),
        IEnumerable<PipelineOutcome> outcomes => Outcomes(outcomes),
        Finding finding => Findings([finding]),
        IEnumerable<Finding> findings => Findings(findings),
        Tree tree => Unfolding(tree),
        _ => Text(value),
    };

    /// <summary>A value of the suite as text, also in a cell of a table; null for another type.</summary>
    /// <param name="value">The value.</param>
    public static string? Text(object value) => value switch
    {
        DataSize size => size.Bytes < 1_000_000 ? Numbers.Size(size.Bytes) : $"{Numbers.Size(size.Bytes)} ({Numbers.Exact(size.Bytes)} B)",
        DataRate rate => $"{Numbers.Rate(rate.BitsPerSecond.ToDouble() / 8)} ({Numbers.Three(rate.BitsPerSecond.ToDouble() / 1e6)} Mb/s)",
        FrameRate rate => $"{rate} frames/s",
        Range range => $"{Numbers.Three(range.P50)} (P10 {Numbers.Three(range.P10)}, P90 {Numbers.Three(range.P90)})",
        Probability probability => Numbers.Percent(probability.Share, probability.StandardError),
        Labels span => $"{span.StartLabel}, {Numbers.Exact(span.FrameCount)} frames{(span.EndLabel.Length > 0 ? $", to before {span.EndLabel}" : string.Empty)}{(span.CrossesMidnight ? ", across midnight" : string.Empty)}",
        _ => null,
    };

    private static NumberTable Outcome(PipelineOutcome outcome)
    {
        static IReadOnlyList<object?> Row(string what, Range range, Func<double, string> print) => [what, print(range.P10), print(range.P50), print(range.P90)];
        static IReadOnlyList<object?> Said(string what, string says) => [what, string.Empty, says, string.Empty];
        return new(outcome.Name, ["What", "P10", "P50", "P90"],
        [
            Said("Admissible", outcome.Admissible),
            Said("On time, lock slip included", Text(outcome.OnTime)!),
            Said("On time if the lock holds", Text(outcome.OnTimeIfLockHolds)!),
            Row("Online peak", outcome.OnlinePeak, Numbers.Size),
            Row("Nearline peak", outcome.NearlinePeak, Numbers.Size),
            Row("Node-hours", outcome.NodeHours, Numbers.Three),
            Row("Person-hours", outcome.PeopleHours, Numbers.Three),
            Row($"Money{(outcome.Costs.Any(c => c.PriceInvented) ? " (invented prices)" : string.Empty)}", outcome.Cost, Numbers.Three),
        ]);
    }

    private static NumberTable Outcomes(IEnumerable<PipelineOutcome> outcomes) => new(
        "Pipelines side by side: medians",
        ["Pipeline", "Admissible", "On time", "Online peak", "Nearline peak", "Node-hours", "Person-hours", "Money"],
        [.. outcomes.Select(IReadOnlyList<object?> (o) =>
        [
            o.Name, o.Admissible, Text(o.OnTime), Numbers.Size(o.OnlinePeak.P50), Numbers.Size(o.NearlinePeak.P50), Numbers.Three(o.NodeHours.P50), Numbers.Three(o.PeopleHours.P50),
            Numbers.Three(o.Cost.P50) + (o.Costs.Any(c => c.PriceInvented) ? " (invented prices)" : string.Empty),
        ])]);

    private static NumberTable Findings(IEnumerable<Finding> findings) => new(
        "Findings", ["What", "What is so", "What mends it"], [.. findings.Select(IReadOnlyList<object?> (f) => [f.Name, f.Says, f.Remedy])]);

    private static Derivation Unfolding(Tree tree) => new(
        tree.Name,
        tree.Value,
        tree.Substituted.Length > 0 ? tree.Substituted : tree.Formula,
        tree.Known is { } known ? string.Create(CultureInfo.InvariantCulture, $"{tree.Source} ({known.ToString().ToLowerInvariant()})") : tree.Source,
        [.. tree.Inputs.Select(Unfolding)]);
}
