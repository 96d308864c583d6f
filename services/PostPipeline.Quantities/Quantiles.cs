namespace PostPipeline.Quantities;

/// <summary>
/// Sample quantiles of type 7 (Hyndman and Fan 1996, Sample Quantiles in Statistical Packages, The American
/// Statistician 50(4)): linear interpolation of the order statistics at (n−1)p.
/// </summary>
public static class Quantiles
{
    /// <summary>The quantile of values already in ascending order.</summary>
    /// <param name="ascending">At least one value, ascending.</param>
    /// <param name="probability">0 to 1.</param>
    public static double OfSorted(ReadOnlySpan<double> ascending, double probability)
    {
        Guard.InRange(ascending.Length, 1, int.MaxValue, "count of values");
        Guard.Finite(probability, 0, 1);
        double position = (ascending.Length - 1) * probability;
        int below = (int)position;
        double fraction = position - below;
        return fraction == 0 ? ascending[below] : ascending[below] + (fraction * (ascending[below + 1] - ascending[below]));
    }

    /// <summary>The quantile of values in any order.</summary>
    /// <param name="values">At least one value.</param>
    /// <param name="probability">0 to 1.</param>
    public static double Of(ReadOnlySpan<double> values, double probability) => Of(values, [probability])[0];

    /// <summary>Several quantiles of values in any order, by selection: a few are found without sorting all.</summary>
    /// <param name="values">At least one value; they are copied, not moved.</param>
    /// <param name="ascendingProbabilities">Each 0 to 1, none below the one before.</param>
    public static double[] Of(ReadOnlySpan<double> values, ReadOnlySpan<double> ascendingProbabilities)
    {
        Guard.InRange(values.Length, 1, int.MaxValue, "count of values");
        double[] copy = values.ToArray();
        double[] quantiles = new double[ascendingProbabilities.Length];
        bool isNumber = true;
        foreach (double value in values)
        {
            isNumber &= !double.IsNaN(value);
        }

        // What is not a number compares with nothing; the sort knows where it belongs.
        if (!isNumber)
        {
            Array.Sort(copy);
        }

        int settled = 0;
        for (int i = 0; i < quantiles.Length; i++)
        {
            double position = (copy.Length - 1) * Guard.Finite(ascendingProbabilities[i], i == 0 ? 0 : ascendingProbabilities[i - 1], 1);
            int below = (int)position;
            double fraction = position - below;
            if (isNumber)
            {
                Selection.Place(copy.AsSpan(settled), below - settled);
                settled = below;
            }

            if (isNumber && fraction > 0)
            {
                Selection.Place(copy.AsSpan(below + 1), 0);
            }

            quantiles[i] = fraction == 0 ? copy[below] : copy[below] + (fraction * (copy[below + 1] - copy[below]));
        }

        return quantiles;
    }
}
