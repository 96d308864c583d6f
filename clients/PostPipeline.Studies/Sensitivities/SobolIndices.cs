using MathNet.Numerics.Distributions;
using PostPipeline.Quantities;

namespace PostPipeline.Studies.Sensitivities;

/// <summary>
/// First-order and total Sobol' indices: Saltelli's pick-freeze design (Saltelli et al. 2010, Computer Physics
/// Communications 181) with Jansen's estimators (Jansen 1999), on independently scrambled Sobol' points.
/// </summary>
/// <remarks>
/// Intervals come from the spread of independent scrambles (Student's t), not from resampling points: the points of a
/// low-discrepancy set are not independent, and resampling them would hide what the set gains.
/// </remarks>
public static class SobolIndices
{
    /// <summary>Estimates the indices of some groups of inputs.</summary>
    /// <param name="dimensions">Inputs of the function.</param>
    /// <param name="groups">Groups of inputs, each changed together; usually one input a group.</param>
    /// <param name="function">Evaluates rows of points, each coordinate strictly between 0 and 1; called in order.</param>
    /// <param name="points">Points of a scramble, a power of two.</param>
    /// <param name="scrambles">Independent scrambles, 2 or more.</param>
    /// <param name="seed">Seed of the scrambling.</param>
    /// <param name="confidence">Confidence of each interval.</param>
    public static IReadOnlyList<SobolIndex> Estimate(
        int dimensions,
        IReadOnlyList<(string Name, IReadOnlyList<int> Inputs)> groups,
        Func<IReadOnlyList<double[]>, double[]> function,
        int points,
        int scrambles,
        long seed,
        double confidence = 0.95)
    {
        Guard.InRange(points, 2, 1 << 24);
        Guard.InRange(scrambles, 2, 1000);
        double[][] first = [.. groups.Select(_ => new double[scrambles])];
        double[][] total = [.. groups.Select(_ => new double[scrambles])];
        for (int s = 0; s < scrambles; s++)
        {
            (double[][] a, double[][] b) = Points(dimensions, points, seed, s);
            double[] fa = function(a);
            double[] fb = function(b);
            double variance = Variance(fa, fb);
            for (int g = 0; g < groups.Count; g++)
            {
                double[] mixed = function(Mix(a, b, groups[g].Inputs));
                double own = 0;
                double rest = 0;
                for (int i = 0; i < points; i++)
                {
                    own += (fb[i] - mixed[i]) * (fb[i] - mixed[i]);
                    rest += (fa[i] - mixed[i]) * (fa[i] - mixed[i]);
                }

                first[g][s] = variance > 0 ? 1 - (own / (2 * points) / variance) : 0;
                total[g][s] = variance > 0 ? rest / (2 * points) / variance : 0;
            }
        }

        return [.. groups.Select((group, g) =>
        {
            (double value, double half) = Interval(first[g], confidence);
            (double totalValue, double totalHalf) = Interval(total[g], confidence);
            return new SobolIndex(group.Name, value, half, totalValue, totalHalf);
        })];
    }

    private static (double[][] A, double[][] B) Points(int dimensions, int points, long seed, int scramble)
    {
        SobolPoints sequence = new(2 * dimensions, seed, scramble);
        double[] both = new double[2 * dimensions];
        double[][] a = new double[points][];
        double[][] b = new double[points][];
        for (int i = 0; i < points; i++)
        {
            sequence.Next(both);
            a[i] = both[..dimensions];
            b[i] = both[dimensions..];
        }

        return (a, b);
    }

    private static double[][] Mix(double[][] a, double[][] b, IReadOnlyList<int> inputs)
    {
        double[][] mixed = new double[a.Length][];
        for (int i = 0; i < a.Length; i++)
        {
            mixed[i] = [.. a[i]];
            foreach (int input in inputs)
            {
                mixed[i][input] = b[i][input];
            }
        }

        return mixed;
    }

    private static double Variance(double[] fa, double[] fb)
    {
        double mean = (fa.Average() + fb.Average()) / 2;
        double sum = 0;
        for (int i = 0; i < fa.Length; i++)
        {
            sum += ((fa[i] - mean) * (fa[i] - mean)) + ((fb[i] - mean) * (fb[i] - mean));
        }

        return sum / (2 * fa.Length);
    }

    private static (double Value, double Half) Interval(double[] estimates, double confidence)
    {
        double mean = estimates.Average();
        double deviation = Math.Sqrt(estimates.Sum(e => (e - mean) * (e - mean)) / (estimates.Length - 1));
        double t = StudentT.InvCDF(0, 1, estimates.Length - 1, 1 - ((1 - confidence) / 2));
        return (mean, t * deviation / Math.Sqrt(estimates.Length));
    }
}
