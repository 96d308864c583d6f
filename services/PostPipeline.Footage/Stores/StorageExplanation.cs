using PostPipeline.Quantities;

namespace PostPipeline.Footage.Stores;

/// <summary>The tree behind what to buy of a tier: peak ← generations on it that day; free space and redundancy by name.</summary>
public static class StorageExplanation
{
    /// <summary>Explains one tier.</summary>
    /// <param name="plan">The tier over time.</param>
    public static Derivation Of(TierPlan plan)
    {
        string[] largest = [.. plan.AtPeak.Where(p => p.Bytes > 0).Select(p => p.Generation.Name)];
        Derivation peak = new()
        {
            Name = $"peak of {plan.Tier.Name}",
            Formula = "sum of what each generation holds at the peak",
            Substituted = string.Join(" + ", plan.AtPeak.Select(p => p.Bytes)),
            Value = plan.Curve.PeakBytes.ToString(),
            Unit = "B",
            Source = $"reached at {plan.Curve.PeakInstant} s of the caller's clock",
            BindingLimit = largest.Length > 0 ? largest[0] : string.Empty,
            NextLimit = largest.Length > 1 ? largest[1] : string.Empty,
            Inputs = [.. plan.AtPeak.Select(Share)],
        };
        Derivation free = new()
        {
            Name = "with free space",
            Formula = "peak ÷ (1 − free part)",
            Substituted = $"{plan.Curve.PeakBytes} ÷ (1 − {plan.Tier.Free})",
            Value = new Tier(plan.Tier.Name, free: plan.Tier.Free).ToBuy(plan.Curve.PeakBytes).ToString(),
            Unit = "B",
            Margin = plan.Tier.Free.Sign > 0 ? "free space" : string.Empty,
            Source = "common practice, no source",
            Inputs = [peak, Derivation.Input("free part", plan.Tier.Free.ToString())],
        };
        return new()
        {
            Name = $"to buy of {plan.Tier.Name}",
            Formula = "with free space × raw bytes for each usable byte",
            Substituted = $"{free.Value} × {plan.Tier.Redundancy}",
            Value = plan.ToBuyBytes.ToString(),
            Unit = "B",
            Margin = plan.Tier.Redundancy > 1 ? "redundancy of the array (it is not a copy)" : string.Empty,
            Inputs = [free, Derivation.Input("raw bytes for each usable byte", plan.Tier.Redundancy.ToString())],
        };
    }

    private static Derivation Share((Generation Generation, long Bytes) share) => new()
    {
        Name = share.Generation.Name,
        Formula = share.Generation.Copies == 1 ? string.Empty : "bytes × copies",
        Substituted = share.Generation.Copies == 1 ? string.Empty : $"{share.Generation.Bytes} × {share.Generation.Copies}",
        Value = share.Bytes.ToString(),
        Unit = "B",
        Source = share.Generation.PurgeTrigger.Length > 0 ? $"purged when: {share.Generation.PurgeTrigger}" : "kept",
    };
}
