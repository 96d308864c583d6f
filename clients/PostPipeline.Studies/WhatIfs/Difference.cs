using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Inputs;
using PostPipeline.Studies.Outcomes;
using PostPipeline.Studies.Printing;

namespace PostPipeline.Studies.WhatIfs;

/// <summary>Two briefs' outcomes: only what moved, and why.</summary>
/// <param name="Outcomes">What moved, in print: what prints the same has not moved.</param>
/// <param name="Inputs">Inputs that differ, each tried alone on the first brief where it can be; the largest move first.</param>
/// <param name="Pipeline">The pipeline that inputs were tried on.</param>
public sealed record Difference(IReadOnlyList<MovedOutcome> Outcomes, IReadOnlyList<MovedInput> Inputs, string Pipeline)
{
    /// <summary>Compares two comparisons.</summary>
    /// <param name="before">The first.</param>
    /// <param name="after">The second.</param>
    public static Difference Of(Comparison before, Comparison after)
    {
        string pipeline = after.Preferred ?? before.Preferred ?? before.Pipelines[0].Name;
        pipeline = before.Pipelines.Any(p => p.Name == pipeline) ? pipeline : before.Pipelines[0].Name;
        return new([.. Moved(before, after)], MovedInputs(before, after, pipeline), pipeline);
    }

    private static List<MovedOutcome> Moved(Comparison before, Comparison after)
    {
        List<MovedOutcome> moved = [];
        void Look(string pipeline, string what, string a, string b)
        {
            if (a != b)
            {
                moved.Add(new(pipeline, what, a, b));
            }
        }

        Look(string.Empty, "preferred", before.Preferred ?? Decision.None, after.Preferred ?? Decision.None);
        Look(string.Empty, "bytes per day, mean", Numbers.Size(before.BytesPerDay.Mean), Numbers.Size(after.BytesPerDay.Mean));
        Look(string.Empty, "latest end of offload", Numbers.Clock(before.LatestOffloadEnd), Numbers.Clock(after.LatestOffloadEnd));
        foreach (PipelineOutcome a in before.Pipelines)
        {
            if (after.Pipelines.FirstOrDefault(p => p.Name == a.Name) is not { } b)
            {
                moved.Add(new(a.Name, "compared", "yes", "no"));
                continue;
            }

            moved.AddRange(Headlines.Moved(a.Name, Headlines.Of(before.Model, a), Headlines.Of(after.Model, b)));
            Look(a.Name, "binding limit", a.Binding?.Name ?? "–", b.Binding?.Name ?? "–");
            Look(a.Name, "next limit", a.Next?.Name ?? "–", b.Next?.Name ?? "–");
            Look(a.Name, "last responsible shoot start", Days(a.LatestShootStartDays), Days(b.LatestShootStartDays));
            Look(a.Name, "last responsible farm start", Moment(before, a.LatestFarmStart), Moment(after, b.LatestFarmStart));
            Look(a.Name, "last responsible lock", Days(a.LatestLockDays), Days(b.LatestLockDays));
        }

        moved.AddRange(after.Pipelines.Where(b => before.Pipelines.All(a => a.Name != b.Name)).Select(b => new MovedOutcome(b.Name, "compared", "no", "yes")));
        return moved;
    }

    private static string Days(int? days) => days is { } n ? FormattableString.Invariant($"{n} days later") : "–";

    private static string Moment(Comparison comparison, double? seconds) => seconds is { } s ? comparison.Model.Clock.Text(s) : "–";

    private static List<MovedInput> MovedInputs(Comparison before, Comparison after, string pipeline)
    {
        InputTable first = before.Model.Inputs;
        InputTable second = after.Model.Inputs;
        int place = before.Pipelines.Select((p, i) => (p, i)).First(p => p.p.Name == pipeline).i;
        DrawSet draws = DrawSet.Sample(first, before.Evaluation.Draws, before.Model.Study.Brief.Seed);
        PipelineOutcome now = before.Pipelines[place];
        List<MovedInput> moved = [];
        foreach (Estimate b in second.Inputs)
        {
            Estimate? a = first.Has(b.Key) ? first.Inputs[first.PlaceOf(b.Key)] : null;
            if (a is not null && (a.Low, a.Likely, a.High) == (b.Low, b.Likely, b.High))
            {
                continue;
            }

            (double delivery, double cost) = (double.NaN, double.NaN);
            if (a is not null && double.IsFinite(b.Likely) && double.IsFinite(a.Likely))
            {
                // Moved as a whole: by a factor where it has a value, else by an amount.
                Change change = a.Likely != 0 && b.Likely != 0 ? Change.Scale(b.Key, b.Likely / a.Likely) : Change.Plus(b.Key, b.Likely - a.Likely);
                Evaluation evaluation = before.Model.Evaluate(draws, [change]);
                delivery = PostPipeline.Studies.Outcomes.Range.Of(evaluation.Pipelines[place].Delivered).P90 - now.Delivery.P90;
                cost = PostPipeline.Studies.Outcomes.Range.Of(evaluation.Pipelines[place].Cost).P50 - now.Cost.P50;
            }

            moved.Add(new(b.Key, a is null ? string.Empty : Text(a), Text(b), delivery, cost));
        }

        moved.AddRange(first.Inputs.Where(a => !second.Has(a.Key)).Select(a => new MovedInput(a.Key, Text(a), string.Empty, double.NaN, double.NaN)));
        return [.. moved.OrderByDescending(m => double.IsNaN(m.DeliverySeconds) ? 0 : Math.Abs(m.DeliverySeconds)).ThenBy(m => m.Input, StringComparer.Ordinal)];
    }

    private static string Text(Estimate input) => input.IsConstant
        ? Amounts.Text(input.Likely, input.Unit)
        : $"{Amounts.Text(input.Low, input.Unit)} / {Amounts.Text(input.Likely, input.Unit)} / {Amounts.Text(input.High, input.Unit)}";
}
