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

    /// <summary>The quantile of values in any order; the values are copied and sorted.</summary>
    /// <param name="values">At least one value.</param>
    /// <param name="probability">0 to 1.</param>
    public static double Of(ReadOnlySpan<double> values, double probability)
    {
        double[] copy = values.ToArray();
        Array.Sort(copy);
        return OfSorted(copy, probability);
    }
}
