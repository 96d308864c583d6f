using PostPipeline.Quantities;

namespace PostPipeline.Footage.Power;

/// <summary>The tree behind the current of a room.</summary>
public static class PowerExplanation
{
    /// <summary>Explains a load.</summary>
    /// <param name="load">The load.</param>
    public static Derivation Of(ElectricalLoad load) => new()
    {
        Name = "circuit rating",
        Formula = "W ÷ V ÷ power factor ÷ continuous part",
        Substituted = $"{load.Watts} ÷ {load.Volts} ÷ {load.PowerFactor} ÷ {load.ContinuousShare}",
        Value = load.CircuitAmperes.ToDouble().ToString("0.##"),
        Unit = "A",
        Margin = load.ContinuousShare < 1 ? "continuous load on a circuit" : string.Empty,
        Source = ElectricalLoad.Caution,
        Inputs =
        [
            Derivation.Input("load", load.Watts.ToString(), "W"), Derivation.Input("supply", load.Volts.ToString(), "V"),
            Derivation.Input("power factor", load.PowerFactor.ToString(), source: "0.95 is an invented default", known: Known.Invented),
            Derivation.Input("continuous part", load.ContinuousShare.ToString(), source: "NEC, value from memory", known: Known.Quoted),
            Derivation.Input("heat = load in kW × 3412", load.HeatBtuPerHour.ToDouble().ToString("0"), "BTU/h"),
        ],
    };
}
