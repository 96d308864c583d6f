using PostPipeline.Quantities;

namespace PostPipeline.Studies.Reforecasts;

/// <summary>
/// What was seen, blended into what is still planned: after k days each remaining planned day is multiplied by
/// w·r + (1−w), with r the ratio actual ÷ plan of the days seen and w = k/(k+3). The ratio is blended, never the mean of
/// easy days carried over to hard ones.
/// </summary>
/// <param name="Days">k, the days seen.</param>
/// <param name="Ratio">r, actual over plan of the same days; 1 where nothing was planned.</param>
/// <param name="Weight">w.</param>
/// <param name="Factor">What a remaining planned day is multiplied by.</param>
/// <param name="FactorDeviation">Standard deviation of that factor.</param>
/// <param name="DayDeviation">Standard deviation of one day's own ratio.</param>
public sealed record Blend(int Days, double Ratio, double Weight, double Factor, double FactorDeviation, double DayDeviation)
{
    /// <summary>Days that a plan's own word is worth.</summary>
    public const int PriorDays = 3;

    /// <summary>Blends days seen into the plan.</summary>
    /// <param name="planned">What was planned for each day seen.</param>
    /// <param name="actual">What happened on each.</param>
    /// <param name="planDeviation">The plan's own standard deviation of a day's ratio, σ.</param>
    public static Blend Of(IReadOnlyList<double> planned, IReadOnlyList<double> actual, double planDeviation)
    {
        Guard.InRange(actual.Count, planned.Count, planned.Count, "days seen");
        Guard.Finite(planDeviation, 0, 100);
        int k = planned.Count;
        double sum = planned.Sum();
        double ratio = k == 0 || sum <= 0 ? 1 : actual.Sum() / sum;
        double weight = (double)k / (k + PriorDays);
        double variance = PooledVariance(planned, actual, planDeviation);
        double deviation = k == 0 ? planDeviation : Math.Sqrt((weight * weight * variance / k) + ((1 - weight) * (1 - weight) * planDeviation * planDeviation));
        return new(k, ratio, weight, (weight * ratio) + (1 - weight), deviation, Math.Sqrt(variance));
    }

    /// <summary>The total at the end: the days seen are facts, the others are multiplied.</summary>
    /// <param name="seen">Total of the days seen.</param>
    /// <param name="remaining">What is planned for each remaining day.</param>
    public double Total(double seen, IEnumerable<double> remaining) => seen + (Factor * remaining.Sum());

    /// <summary>The standard deviation of that total: one factor for all days, and each day's own spread.</summary>
    /// <param name="remaining">What is planned for each remaining day.</param>
    public double TotalDeviation(IReadOnlyList<double> remaining) => Math.Sqrt(
        Math.Pow(FactorDeviation * remaining.Sum(), 2) + remaining.Sum(day => Math.Pow(DayDeviation * Factor * day, 2)));

    /// <summary>A draw of the factor: its median is the factor, its width the factor's standard deviation, and it stays above 0.</summary>
    /// <param name="normal">A draw of the standard normal distribution.</param>
    public double Drawn(double normal) =>
        Factor <= 0 ? 0 : Factor * Math.Exp(normal * Math.Sqrt(Math.Log(1 + (FactorDeviation * FactorDeviation / (Factor * Factor)))));

    // The daily ratios' variance; with fewer than three days the plan's own stands in for the missing ones.
    private static double PooledVariance(IReadOnlyList<double> planned, IReadOnlyList<double> actual, double planDeviation)
    {
        double[] ratios = [.. planned.Zip(actual).Where(p => p.First > 0).Select(p => p.Second / p.First)];
        double mean = ratios.DefaultIfEmpty(1).Average();
        double squares = ratios.Sum(r => (r - mean) * (r - mean));
        double own = ratios.Length > 1 ? squares / (ratios.Length - 1) : 0;
        int known = Math.Max(0, ratios.Length - 1);
        int missing = ratios.Length < PriorDays ? PriorDays - known : 0;
        return missing == 0 ? own : ((known * own) + (missing * planDeviation * planDeviation)) / (known + missing);
    }
}
