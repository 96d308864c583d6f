namespace PostPipeline.Studies.Printing;

/// <summary>
/// Power and cooling of a farm, indicative only: a qualified electrician and local codes decide. Heat equals the
/// electrical load; 1 kW = 3,412 BTU/h.
/// </summary>
/// <param name="Kilowatts">Electrical load, kW.</param>
/// <param name="BtuPerHour">Heat, BTU/h.</param>
/// <param name="UnityAmperes">Current at unity power factor, A.</param>
/// <param name="Amperes">Current at the power factor, A.</param>
/// <param name="CircuitAmperes">Rating of a circuit that carries it continuously, A.</param>
public sealed record PowerRequest(double Kilowatts, double BtuPerHour, double UnityAmperes, double Amperes, double CircuitAmperes)
{
    /// <summary>An invented load of a node, kW, inside the 0.4–1.2 kW of common practice (no source).</summary>
    public const double KilowattsOfANode = 0.65;

    /// <summary>An invented load of switches and storage, kW.</summary>
    public const double KilowattsOfTheRest = 1.5;

    /// <summary>The request for some nodes.</summary>
    /// <param name="nodes">How many.</param>
    /// <param name="volts">Mains voltage, V.</param>
    /// <param name="powerFactor">Power factor; 0.95 is invented.</param>
    /// <param name="continuous">Share of a circuit's rating for continuous load; 0.8 in US practice (value from memory).</param>
    public static PowerRequest Of(int nodes, double volts = 230, double powerFactor = 0.95, double continuous = 0.8)
    {
        double kilowatts = (nodes * KilowattsOfANode) + KilowattsOfTheRest;
        double unity = kilowatts * 1000 / volts;
        return new(kilowatts, kilowatts * 3412, unity, unity / powerFactor, unity / powerFactor / continuous);
    }
}
