namespace PostPipeline.RenderTimes.Intervals;

/// <summary>
/// A new family after a few of its rows were measured: the best linear estimate of its errors at the other
/// settings, and the band that the same rows would have left the calibration families with.
/// </summary>
/// <remarks>
/// The band does not rest on the estimate's assumptions: it is conformal over the calibration families, each conditioned
/// on its own rows at the same settings with its own part taken out of the covariance.
/// </remarks>
internal sealed class FamilyShift
{
    private readonly FamilyErrors errors;
    private readonly int[] observed;
    private readonly (double Sum, int Count)[]?[] columns;
    private readonly ConditionedErrors own;
    private readonly Lazy<List<(double[] Errors, double[] Deviations)>> adjusted;
    private readonly Lazy<IReadOnlyList<double[]>> scores;
    private readonly Dictionary<double, double?> widths = [];

    public FamilyShift(FamilyErrors errors, int[] observed, double[] residuals)
    {
        this.errors = errors;
        this.observed = observed;
        columns = [.. observed.Select(errors.Column)];
        own = new(errors, observed, columns, residuals, -1);
        adjusted = new(Adjust);
        scores = new(Scores);
    }

    /// <summary>How much the logarithm moves at a setting.</summary>
    /// <param name="setting">The setting; −1 for one never measured.</param>
    public double At(int setting) => own.At(setting);

    /// <summary>The standard deviation of the logarithm that is left at a setting.</summary>
    /// <param name="setting">The setting; −1 for one never measured.</param>
    public double Deviation(int setting) => own.Deviation(setting);

    /// <summary>The band's half-width in deviations; null where the families are too few for the coverage.</summary>
    /// <param name="coverage">Above 0, below 1.</param>
    public double? Width(double coverage)
    {
        lock (widths)
        {
            if (!widths.TryGetValue(coverage, out double? width))
            {
                width = scores.Value.Count < HierarchicalConformal.FewestFamilies(coverage) ? null : HierarchicalConformal.HalfWidth(scores.Value, coverage);
                widths.Add(coverage, width);
            }

            return width;
        }
    }

    /// <summary>
    /// For each calibration family that has rows at the settings observed here: its extreme errors, which stand in for
    /// a band where the families are too few for one. One value a family, the largest in size.
    /// </summary>
    public double[] Calibration => [.. adjusted.Value.Select(a => a.Errors.Where(e => !double.IsNaN(e)).DefaultIfEmpty(0).MaxBy(Math.Abs))];

    /// <summary>log(measured ÷ predicted) of a mix of settings, for each calibration family.</summary>
    /// <param name="mix">Settings and their parts of the predicted total.</param>
    public double[] TotalErrors(IReadOnlyList<(int Setting, double Part)> mix) => [.. adjusted.Value.Select(a =>
    {
        // A setting that the family lacks takes the family's mean: its clips would share what the family shares.
        double mean = a.Errors.Where(e => !double.IsNaN(e)).DefaultIfEmpty(0).Average();
        double ratio = 0;
        foreach ((int setting, double part) in mix)
        {
            double error = setting >= 0 && !double.IsNaN(a.Errors[setting]) ? a.Errors[setting] : mean;
            ratio += part * Math.Exp(error);
        }

        return Math.Log(Math.Max(ratio, 1e-300));
    })];

    private IReadOnlyList<double[]> Scores() => [.. adjusted.Value
        .Select(a => a.Errors.Select((e, s) => Math.Abs(e) / a.Deviations[s]).Where((_, s) => !double.IsNaN(a.Errors[s])).ToArray())
        .Where(s => s.Length > 0)];

    // Each calibration family as if its rows at the observed settings had been measured, and nothing else of it were known.
    private List<(double[] Errors, double[] Deviations)> Adjust()
    {
        List<(double[] Errors, double[] Deviations)> all = [];
        for (int family = 0; family < errors.Families; family++)
        {
            double[] measured = errors.Residuals[family];
            double[] seen = [.. observed.Select(s => s < 0 ? double.NaN : measured[s])];
            if (seen.Any(double.IsNaN))
            {
                continue;
            }

            ConditionedErrors conditioned = new(errors, observed, columns, seen, family);
            double[] left = new double[measured.Length];
            double[] deviations = new double[measured.Length];
            for (int s = 0; s < left.Length; s++)
            {
                left[s] = double.NaN;
                if (!double.IsNaN(measured[s]) && Array.IndexOf(observed, s) < 0)
                {
                    left[s] = measured[s] - conditioned.At(s);
                    deviations[s] = conditioned.Deviation(s);
                }
            }

            all.Add((left, deviations));
        }

        return all;
    }
}
