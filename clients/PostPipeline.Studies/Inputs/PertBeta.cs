using MathNet.Numerics;
using MathNet.Numerics.Distributions;
using PostPipeline.Quantities;

namespace PostPipeline.Studies.Inputs;

/// <summary>
/// The PERT-beta distribution on [a, b] with mode m: α = 1 + 4(m−a)/(b−a), β = 1 + 4(b−m)/(b−a) (Malcolm, Roseboom,
/// Clark and Fazar 1959, in the beta form of Vose). Its mean is (a + 4m + b)/6; its standard deviation is the beta's
/// own, not the classic (b−a)/6.
/// </summary>
public sealed class PertBeta
{
    private PertBeta(double minimum, double mode, double maximum)
    {
        (Minimum, Mode, Maximum) = (minimum, mode, maximum);
        double width = maximum - minimum;
        Alpha = 1 + (4 * (mode - minimum) / width);
        Beta = 1 + (4 * (maximum - mode) / width);
    }

    /// <summary>The lower bound a.</summary>
    public double Minimum { get; }

    /// <summary>The mode m.</summary>
    public double Mode { get; }

    /// <summary>The upper bound b.</summary>
    public double Maximum { get; }

    /// <summary>The first shape, 1 to 5.</summary>
    public double Alpha { get; }

    /// <summary>The second shape, 6 less the first.</summary>
    public double Beta { get; }

    /// <summary>The mean, (a + 4m + b)/6.</summary>
    public double Mean => (Minimum + (4 * Mode) + Maximum) / 6;

    /// <summary>The beta's own standard deviation, (b−a)·√(αβ/(36·7)).</summary>
    public double StandardDeviation => (Maximum - Minimum) * Math.Sqrt(Alpha * Beta / (36 * 7));

    /// <summary>The distribution between hard bounds.</summary>
    /// <param name="minimum">Below <paramref name="maximum"/>.</param>
    /// <param name="mode">Between them.</param>
    /// <param name="maximum">The upper bound.</param>
    public static PertBeta FromBounds(double minimum, double mode, double maximum)
    {
        Guard.Finite(minimum, double.MinValue, double.MaxValue);
        Guard.Finite(mode, minimum, double.MaxValue);
        Guard.Finite(maximum, mode, double.MaxValue);
        return maximum > minimum
            ? new(minimum, mode, maximum)
            : throw new ArgumentOutOfRangeException(nameof(maximum), maximum, $"The upper bound is {maximum}; allowed is above the lower bound {minimum}.");
    }

    /// <summary>The distribution whose mode is <paramref name="likely"/> and whose P10 and P90 are the other two.</summary>
    /// <param name="low">P10, at most <paramref name="likely"/>.</param>
    /// <param name="likely">The mode.</param>
    /// <param name="high">P90, at least <paramref name="likely"/> and above <paramref name="low"/>.</param>
    public static PertBeta FromPercentiles(double low, double likely, double high)
    {
        Guard.Finite(likely, low, high);
        if (!(low < high))
        {
            throw new ArgumentOutOfRangeException(nameof(high), high, $"P90 is {high}; allowed is above P10, {low}.");
        }

        // The shape hangs on t = (m−a)/(b−a) alone, and the place of the mode between P10 and P90 rises with t.
        double wanted = (likely - low) / (high - low);
        (double below, double above) = (0, 1);
        for (int i = 0; i < 60 && above - below > 1e-15; i++)
        {
            double t = (below + above) / 2;
            (double p10, double p90) = UnitPercentiles(t);
            if ((t - p10) / (p90 - p10) < wanted)
            {
                below = t;
            }
            else
            {
                above = t;
            }
        }

        double place = (below + above) / 2;
        (double low10, double high90) = UnitPercentiles(place);
        double width = (high - low) / (high90 - low10);
        double minimum = likely - (place * width);
        return new(minimum, likely, minimum + width);
    }

    /// <summary>The cumulative distribution.</summary>
    /// <param name="value">Any value.</param>
    public double Cumulative(double value)
    {
        double x = (value - Minimum) / (Maximum - Minimum);
        return x <= 0 ? 0 : x >= 1 ? 1 : SpecialFunctions.BetaRegularized(Alpha, Beta, x);
    }

    /// <summary>The quantile: where the cumulative distribution reaches a probability.</summary>
    /// <param name="probability">0 to 1.</param>
    public double Quantile(double probability)
    {
        Guard.Finite(probability, 0, 1);
        return Minimum + ((Maximum - Minimum) * UnitQuantile(Alpha, Beta, probability));
    }

    private static (double P10, double P90) UnitPercentiles(double t)
    {
        double alpha = 1 + (4 * t);
        return (UnitQuantile(alpha, 6 - alpha, 0.1), UnitQuantile(alpha, 6 - alpha, 0.9));
    }

    // Newton from the middle of a bracket, kept inside it; the density is the derivative.
    private static double UnitQuantile(double alpha, double beta, double probability)
    {
        if (probability is 0 or 1)
        {
            return probability;
        }

        (double below, double above, double x) = (0, 1, alpha / (alpha + beta));
        for (int i = 0; i < 100; i++)
        {
            double error = SpecialFunctions.BetaRegularized(alpha, beta, x) - probability;
            if (error > 0)
            {
                above = x;
            }
            else
            {
                below = x;
            }

            double next = x - (error / MathNet.Numerics.Distributions.Beta.PDF(alpha, beta, x));
            next = next > below && next < above ? next : (below + above) / 2;
            if (Math.Abs(next - x) <= 1e-15 * Math.Max(x, 1e-3))
            {
                return next;
            }

            x = next;
        }

        return x;
    }
}
