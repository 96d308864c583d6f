using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Footage.Power;
using PostPipeline.Footage.Service.Shared;
using PostPipeline.Quantities;

namespace PostPipeline.Footage.Service.Storage;

/// <summary>Reads rooms and writes their load and heat, with the caution that belongs to such figures.</summary>
internal static class PowerAnswers
{
    public static PowerEstimate? Answer(PowerItem item, ItemProblems problems, bool explain)
    {
        problems.Label(item.Label);
        problems.InRange("watts", item.Watts, 0, 1e9);
        problems.InRange("volts", item.Volts, 1, 1000);
        Rational factor = problems.Fraction("power_factor", item.PowerFactor, 0, 1, new(19, 20), openLow: true);
        Rational share = problems.Fraction("continuous_share", item.ContinuousShare, 0, 1, new(4, 5), openLow: true);
        if (!problems.None)
        {
            return null;
        }

        ElectricalLoad load = ElectricalLoad.From(new Rational((long)Math.Round(item.Watts * 1000), 1000), item.Volts, factor, share);
        return new()
        {
            HeatBtuPerHour = load.HeatBtuPerHour.ToDouble(),
            AmperesAtUnity = load.AmperesAtUnity.ToDouble(),
            Amperes = load.Amperes.ToDouble(),
            CircuitAmperes = load.CircuitAmperes.ToDouble(),
            Caution = ElectricalLoad.Caution,
            Derivation = explain ? Wire.Of(PowerExplanation.Of(load)) : null,
        };
    }
}
