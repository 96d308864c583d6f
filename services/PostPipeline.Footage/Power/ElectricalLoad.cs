using PostPipeline.Quantities;

namespace PostPipeline.Footage.Power;

/// <summary>
/// The electrical load of a room and the heat that must leave it. Heat is about the load (1 kW = 3,412 BTU/h);
/// continuous load at most 80 % of a circuit's rating is US practice (NEC, value from memory); a power factor of 0.95
/// is an invented default.
/// </summary>
/// <remarks>Indicative only. Use measured maxima, not labels; a qualified electrician and local codes decide.</remarks>
public readonly record struct ElectricalLoad
{
    /// <summary>What must stand beside every figure of this kind.</summary>
    public const string Caution = "Indicative only: a qualified electrician and local codes decide; use measured maxima, not labels.";

    /// <summary>BTU an hour of a kilowatt.</summary>
    public const int BtuPerHourPerKilowatt = 3412;

    private static readonly Rational DefaultPowerFactor = new(19, 20);
    private static readonly Rational DefaultContinuousShare = new(4, 5);

    private ElectricalLoad(Rational watts, int volts, Rational powerFactor, Rational continuousShare) =>
        (Watts, Volts, PowerFactor, ContinuousShare) = (watts, volts, powerFactor, continuousShare);

    /// <summary>The load in watts.</summary>
    public Rational Watts { get; }

    /// <summary>The supply's voltage.</summary>
    public int Volts { get; }

    /// <summary>Real ÷ apparent power.</summary>
    public Rational PowerFactor { get; }

    /// <summary>The part of a circuit's rating that may be loaded continuously.</summary>
    public Rational ContinuousShare { get; }

    /// <summary>Heat in BTU an hour.</summary>
    public Rational HeatBtuPerHour => Watts / 1000 * BtuPerHourPerKilowatt;

    /// <summary>Amperes at a power factor of 1, single phase.</summary>
    public Rational AmperesAtUnity => Watts / Volts;

    /// <summary>Amperes at the power factor, single phase.</summary>
    public Rational Amperes => AmperesAtUnity / PowerFactor;

    /// <summary>Amperes of circuit rating for a continuous load, single phase.</summary>
    public Rational CircuitAmperes => Amperes / ContinuousShare;

    /// <summary>Creates a load.</summary>
    /// <param name="watts">Zero or more.</param>
    /// <param name="volts">1 to 1,000.</param>
    /// <param name="powerFactor">Above 0 to 1; null for 0.95.</param>
    /// <param name="continuousShare">Above 0 to 1; null for 0.8.</param>
    public static ElectricalLoad From(Rational watts, int volts, Rational? powerFactor = null, Rational? continuousShare = null)
    {
        if (watts.Sign < 0 || watts > 1_000_000_000)
        {
            throw new ArgumentOutOfRangeException(nameof(watts), watts, $"The load is {watts} W; allowed is 0 to 1000000000.");
        }

        return new(watts, Guard.InRange(volts, 1, 1000), Part(powerFactor ?? DefaultPowerFactor, nameof(powerFactor)), Part(continuousShare ?? DefaultContinuousShare, nameof(continuousShare)));
    }

    private static Rational Part(Rational part, string name) =>
        part.Sign > 0 && part <= 1 ? part : throw new ArgumentOutOfRangeException(name, part, $"{name} is {part}; allowed is above 0 to 1.");
}
