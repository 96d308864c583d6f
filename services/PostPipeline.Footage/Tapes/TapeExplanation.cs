using PostPipeline.Quantities;

namespace PostPipeline.Footage.Tapes;

/// <summary>The tree behind cartridges and drive hours.</summary>
public static class TapeExplanation
{
    /// <summary>Explains a plan.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="originals">The volume without other material.</param>
    /// <param name="other">Other material as a part of it.</param>
    /// <param name="tape">The cartridges.</param>
    /// <param name="fill">The part of a cartridge that is filled.</param>
    /// <param name="rate">What a drive writes.</param>
    /// <param name="verify">Whether each cartridge is read again.</param>
    /// <param name="assumedRate">Whether the rate is an assumption.</param>
    public static Derivation Of(TapePlan plan, DataSize originals, Rational other, TapeGeneration tape, Rational fill, DataRate rate, bool verify, bool assumedRate)
    {
        Derivation volume = new()
        {
            Name = "volume",
            Formula = "originals × (1 + other material)",
            Substituted = $"{originals.Bytes} × (1 + {other})",
            Value = plan.Volume.Bytes.ToString(),
            Unit = "B",
            Margin = other.Sign > 0 ? "other material" : string.Empty,
            Inputs = [Derivation.Input("originals", originals.Bytes.ToString(), "B"), Derivation.Input("other material", other.ToString())],
        };
        Derivation perSet = new()
        {
            Name = "cartridges a set",
            Formula = "⌈volume ÷ (capacity × fill)⌉",
            Substituted = $"⌈{plan.CartridgesExact.ToDouble():0.###}⌉",
            Value = plan.CartridgesPerSet.ToString(),
            Margin = fill < 1 ? "cartridge fill" : string.Empty,
            BindingLimit = "capacity of a cartridge",
            Inputs = [volume, Derivation.Input($"capacity of generation {tape.Generation}", tape.Capacity.Bytes.ToString(), "B", tape.Source, Known.Quoted), Derivation.Input("fill", fill.ToString(), source: "common practice, no source")],
        };
        Derivation hours = new()
        {
            Name = "drive hours",
            Formula = "volume ÷ rate × passes × sets ÷ 3600, and calibration",
            Substituted = $"{plan.Volume.Bytes} ÷ {rate.BytesPerSecond} × {(verify ? 2 : 1)} × {plan.Sets} ÷ 3600",
            Value = plan.DriveHours.ToDouble().ToString("0.##"),
            Unit = "h",
            Margin = assumedRate ? "drive speed in practice" : string.Empty,
            Inputs = [volume, Derivation.Input("rate of a drive", rate.BytesPerSecond.ToString(), "B/s", assumedRate ? "three quarters of the native rate, common practice" : "as stated", assumedRate ? Known.Invented : Known.Unspecified)],
        };
        return new()
        {
            Name = "cartridges",
            Formula = "cartridges a set × sets",
            Substituted = $"{plan.CartridgesPerSet} × {plan.Sets}",
            Value = plan.Cartridges.ToString(),
            Inputs = [perSet, Derivation.Input("sets", plan.Sets.ToString()), hours],
        };
    }
}
