using PostPipeline.Quantities;

namespace PostPipeline.Studies.Outcomes;

/// <summary>P10, P50 and P90 of some draws, by type-7 quantiles.</summary>
/// <param name="P10">One time in ten below.</param>
/// <param name="P50">The median.</param>
/// <param name="P90">One time in ten above.</param>
public readonly record struct Range(double P10, double P50, double P90)
{
    /// <summary>The range of some draws; the array is not changed.</summary>
    /// <param name="draws">At least one.</param>
    public static Range Of(ReadOnlySpan<double> draws)
    {
        double[] levels = Quantiles.Of(draws, [0.1, 0.5, 0.9]);
        return new(levels[0], levels[1], levels[2]);
    }

    /// <summary>The value at one of the three levels.</summary>
    /// <param name="level">P10, P50 or P90.</param>
    public double At(string level) => level switch { "P10" => P10, "P50" => P50, _ => P90 };
}
