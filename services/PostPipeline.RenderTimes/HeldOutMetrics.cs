namespace PostPipeline.RenderTimes;

/// <summary>How well predictions do on families that were held out whole.</summary>
/// <param name="MedianPercent">Median absolute error in per cent of the measured time.</param>
/// <param name="MeanPercent">Mean absolute error in per cent of the measured time.</param>
/// <param name="BiasPercent">Mean of predicted ÷ measured, less one, in per cent.</param>
/// <param name="Worst5Percent">The error that 5 % of rows exceed, in per cent.</param>
/// <param name="LogDeviation">Root mean square of log(measured ÷ predicted).</param>
public sealed record HeldOutMetrics(double MedianPercent, double MeanPercent, double BiasPercent, double Worst5Percent, double LogDeviation)
{
    /// <summary>Measures predictions.</summary>
    /// <param name="predicted">Logarithms of predicted seconds per frame.</param>
    /// <param name="measured">Logarithms of measured seconds per frame.</param>
    public static HeldOutMetrics From(ReadOnlySpan<double> predicted, ReadOnlySpan<double> measured)
    {
        double[] errors = new double[predicted.Length];
        double bias = 0;
        double squares = 0;
        for (int i = 0; i < errors.Length; i++)
        {
            double log = predicted[i] - measured[i];
            double relative = Math.Exp(log) - 1;
            errors[i] = 100 * Math.Abs(relative);
            bias += relative;
            squares += log * log;
        }

        double mean = errors.Average();
        Array.Sort(errors);
        return new(
            PostPipeline.Quantities.Quantiles.OfSorted(errors, 0.5),
            mean,
            100 * bias / errors.Length,
            PostPipeline.Quantities.Quantiles.OfSorted(errors, 0.95),
            Math.Sqrt(squares / errors.Length));
    }
}
