using System.Collections.Concurrent;
using PostPipeline.Studies.Briefs;

namespace PostPipeline.Studies.Inputs;

/// <summary>
/// An input's quantile function as a table, so that a draw costs a look-up. The grid is even in s where
/// u = (1 − cos πs)/2: close together at both ends, where the function is steep.
/// </summary>
internal sealed class QuantileTable
{
    private const int Cells = 512;
    private const int MostKept = 2_000;
    private static readonly ConcurrentDictionary<(double Low, double Likely, double High, double Minimum, double Maximum), QuantileTable> Kept = new();
    private readonly double[] values = new double[Cells + 1];

    private QuantileTable(Func<double, double> quantile)
    {
        for (int i = 0; i <= Cells; i++)
        {
            values[i] = quantile((1 - Math.Cos(Math.PI * i / Cells)) / 2);
        }
    }

    /// <summary>
    /// The table of an input. A study and its what-ifs build their inputs anew with the same numbers, so tables are kept:
    /// a table hangs on five numbers only, and never changes.
    /// </summary>
    public static QuantileTable Of(Estimate input)
    {
        if (Kept.Count >= MostKept)
        {
            Kept.Clear();
        }

        return Kept.GetOrAdd((input.Low, input.Likely, input.High, input.Minimum, input.Maximum), _ => Make(input));
    }

    private static QuantileTable Make(Estimate input)
    {
        if (input.IsConstant)
        {
            return new(_ => input.Likely);
        }

        // Hard bounds cut the distribution; what is left keeps its shape.
        PertBeta fitted = PertBeta.FromPercentiles(input.Low, input.Likely, input.High);
        double from = fitted.Cumulative(input.Minimum);
        double until = fitted.Cumulative(input.Maximum);
        return new(u => Math.Clamp(fitted.Quantile(Math.Clamp(from + (u * (until - from)), 0, 1)), input.Minimum, input.Maximum));
    }

    /// <summary>A log-normal by its median and the standard deviation of its logarithm.</summary>
    public static QuantileTable OfLogNormal(double median, double logDeviation) =>
        new(u => median * Math.Exp(logDeviation * Quantities.Randomness.NormalDistribution.Quantile(Math.Clamp(u, 1e-6, 1 - 1e-6))));

    public double At(double probability)
    {
        double place = Math.Acos(1 - (2 * probability)) / Math.PI * Cells;
        int cell = Math.Min((int)place, Cells - 1);
        return values[cell] + ((place - cell) * (values[cell + 1] - values[cell]));
    }
}
