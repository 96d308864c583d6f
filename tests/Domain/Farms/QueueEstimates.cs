using PostPipeline.Quantities.Randomness;

namespace PostPipeline.Domain.Tests.Farms;

/// <summary>Estimates of one measure from independent replications, and the interval that a table of checks asks for.</summary>
internal static class QueueEstimates
{
    /// <summary>Mean and half-width: Student's t by its expansion about the normal (Abramowitz and Stegun 26.7.5).</summary>
    public static (double Mean, double HalfWidth) Interval(IReadOnlyList<double> replications, double confidence)
    {
        int n = replications.Count;
        double mean = replications.Average();
        double variance = replications.Sum(x => (x - mean) * (x - mean)) / (n - 1);
        double z = NormalDistribution.Quantile((1 + confidence) / 2);
        double v = n - 1;
        double t = z + (((z * z * z) + z) / (4 * v)) + (((5 * Math.Pow(z, 5)) + (16 * z * z * z) + (3 * z)) / (96 * v * v))
            + (((3 * Math.Pow(z, 7)) + (19 * Math.Pow(z, 5)) + (17 * z * z * z) - (15 * z)) / (384 * v * v * v));
        return (mean, t * Math.Sqrt(variance / n));
    }
}
