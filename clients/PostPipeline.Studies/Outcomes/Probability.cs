namespace PostPipeline.Studies.Outcomes;

/// <summary>A share of draws with its Monte Carlo error.</summary>
/// <param name="Share">0 to 1.</param>
/// <param name="StandardError">√(p(1−p)/n), by the rule of succession where all or no draws count: sampling noise only.</param>
public readonly record struct Probability(double Share, double StandardError)
{
    /// <summary>The share of draws at or before a moment.</summary>
    /// <param name="draws">At least one.</param>
    /// <param name="due">The moment.</param>
    public static Probability AtMost(ReadOnlySpan<double> draws, double due)
    {
        int count = 0;
        foreach (double draw in draws)
        {
            count += draw <= due ? 1 : 0;
        }

        return Of(count, draws.Length);
    }

    /// <summary>The share of draws in which one value is below another.</summary>
    /// <param name="first">Draws.</param>
    /// <param name="second">As many draws.</param>
    public static Probability Below(ReadOnlySpan<double> first, ReadOnlySpan<double> second)
    {
        int count = 0;
        for (int i = 0; i < first.Length; i++)
        {
            count += first[i] < second[i] ? 1 : 0;
        }

        return Of(count, first.Length);
    }

    /// <summary>The share of draws in which two values are the same.</summary>
    /// <param name="first">Draws.</param>
    /// <param name="second">As many draws.</param>
    public static Probability Same(ReadOnlySpan<double> first, ReadOnlySpan<double> second)
    {
        int count = 0;
        for (int i = 0; i < first.Length; i++)
        {
            count += first[i] == second[i] ? 1 : 0;
        }

        return Of(count, first.Length);
    }

    private static Probability Of(int count, int of)
    {
        double smoothed = (count + 1.0) / (of + 2.0);
        double p = count == 0 || count == of ? smoothed : (double)count / of;
        return new((double)count / of, Math.Sqrt(p * (1 - p) / of));
    }
}
