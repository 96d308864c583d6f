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
    public static SobolEstimate Estimate(
        int dimensions,
        IReadOnlyList<(string Name, IReadOnlyList<int> Inputs)> groups,
        Func<IReadOnlyList<double[]>, double[]> function,
        int points,
        int scrambles,
        long seed,
        double confidence = 0.95) => Estimate(dimensions, groups, rows => [function(rows)], 1, points, scrambles, seed, confidence)[0];

    /// <summary>The same for several outputs of one function, on the same points.</summary>
    /// <param name="dimensions">Inputs of the function.</param>
    /// <param name="groups">Groups of inputs, each changed together; usually one input a group.</param>
    /// <param name="function">Evaluates rows of points; answers by output, then by row.</param>
    /// <param name="outputs">Outputs of the function.</param>
    /// <param name="points">Points of a scramble, a power of two.</param>
    /// <param name="scrambles">Independent scrambles, 2 or more.</param>
    /// <param name="seed">Seed of the scrambling.</param>
    /// <param name="confidence">Confidence of each interval.</param>
    /// <param name="progress">Told after each evaluation which part of them is done; null where nobody asks.</param>
    public static IReadOnlyList<SobolEstimate> Estimate(
        int dimensions,
        IReadOnlyList<(string Name, IReadOnlyList<int> Inputs)> groups,
        Func<IReadOnlyList<double[]>, IReadOnlyList<double[]>> function,
        int outputs,
        int points,
        int scrambles,
        long seed,
        double confidence = 0.95,
        IProgress<double>? progress = null)
    {
        Guard.InRange(points, 2, 1 << 24);
        Guard.InRange(scrambles, 2, 1000);
        Tally[] tallies = [.. Enumerable.Range(0, outputs).Select(_ => new Tally(groups.Count, scrambles))];
        for (int s = 0; s < scrambles; s++)
        {
            (double[][] a, double[][] b) = Points(dimensions, points, seed, s);
            IReadOnlyList<double[]> fa = function(a);
            IReadOnlyList<double[]> fb = function(b);
            for (int o = 0; o < outputs; o++)
            {
                tallies[o].Begin(s, fa[o], fb[o]);
            }

            for (int g = 0; g < groups.Count; g++)
            {
                IReadOnlyList<double[]> mixed = function(Mix(a, b, groups[g].Inputs));
                for (int o = 0; o < outputs; o++)
                {
                    tallies[o].Add(s, g, fa[o], fb[o], mixed[o]);
                }

                progress?.Report((s + ((g + 1.0) / groups.Count)) / scrambles);
            }
        }

        return [.. tallies.Select(t => t.Estimate(groups, confidence))];
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

    // What the scrambles gave for one output.
    private sealed class Tally(int groups, int scrambles)
    {
        private readonly double[][] first = [.. Enumerable.Range(0, groups).Select(_ => new double[scrambles])];
        private readonly double[][] total = [.. Enumerable.Range(0, groups).Select(_ => new double[scrambles])];
        private readonly double[] means = new double[scrambles];
        private readonly double[] variances = new double[scrambles];

        public void Begin(int scramble, double[] fa, double[] fb) =>
            (means[scramble], variances[scramble]) = ((fa.Average() + fb.Average()) / 2, Variance(fa, fb));

        public void Add(int scramble, int group, double[] fa, double[] fb, double[] mixed)
        {
            double own = 0;
            double rest = 0;
            for (int i = 0; i < fa.Length; i++)
            {
                own += (fb[i] - mixed[i]) * (fb[i] - mixed[i]);
                rest += (fa[i] - mixed[i]) * (fa[i] - mixed[i]);
            }

            double variance = variances[scramble];
            first[group][scramble] = variance > 0 ? 1 - (own / (2 * fa.Length) / variance) : 0;
            total[group][scramble] = variance > 0 ? rest / (2 * fa.Length) / variance : 0;
        }

        public SobolEstimate Estimate(IReadOnlyList<(string Name, IReadOnlyList<int> Inputs)> names, double confidence)
        {
            (double mean, double meanHalf) = Interval(means, confidence);
            (double spread, double spreadHalf) = Interval(variances, confidence);
            return new(mean, meanHalf, spread, spreadHalf, [.. names.Select((group, g) =>
            {
                (double value, double half) = Interval(first[g], confidence);
                (double totalValue, double totalHalf) = Interval(total[g], confidence);
                return new SobolIndex(group.Name, value, half, totalValue, totalHalf);
            })]);
        }
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
