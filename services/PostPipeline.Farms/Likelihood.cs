using PostPipeline.Quantities;
using PostPipeline.Quantities.Randomness;

namespace PostPipeline.Farms;

/// <summary>A probability estimated from replications, with its Monte Carlo error.</summary>
/// <param name="Value">Share of the replications.</param>
/// <param name="Low">Lower end of the interval.</param>
/// <param name="High">Upper end of the interval.</param>
public readonly record struct Likelihood(double Value, double Low, double High)
{
    /// <summary>The share of successes with Wilson's score interval (E. B. Wilson, JASA 22, 1927).</summary>
    /// <param name="successes">0 to <paramref name="trials"/>.</param>
    /// <param name="trials">1 or more.</param>
    /// <param name="confidence">Confidence of the interval, between 0 and 1.</param>
    public static Likelihood Of(int successes, int trials, double confidence = 0.95)
    {
        Guard.InRange(trials, 1, int.MaxValue);
        Guard.InRange(successes, 0, trials);
        double z = NormalDistribution.Quantile((1 + confidence) / 2);
        double share = (double)successes / trials;
        double centre = (share + (z * z / (2 * trials))) / (1 + (z * z / trials));
        double half = z * Math.Sqrt((share * (1 - share) / trials) + (z * z / (4.0 * trials * trials))) / (1 + (z * z / trials));
        return new(share, Math.Max(0, centre - half), Math.Min(1, centre + half));
    }
}
