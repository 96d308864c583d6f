namespace PostPipeline.RenderTimes.Intervals;

/// <summary>
/// A new family after a few of its rows were measured: the best linear estimate of its errors at the other
/// settings, and the band that the same rows would have left the calibration families with.
/// </summary>
/// <remarks>
/// The estimate is that of a Gaussian with the held-out families' covariance (kriging). The band does not rest on
/// that: it is conformal over the calibration families, each conditioned on its own rows at the same settings with
/// its own part taken out of the covariance.
/// </remarks>
internal sealed class FamilyShift
{
    private readonly FamilyErrors errors;
    private readonly int[] observed;
    private readonly (double Sum, int Count)[]?[] columns;
    private readonly double[][]? factor;
    private readonly double[] solved;
    private readonly Lazy<List<(double[] Errors, double[] Deviations)>> adjusted;
    private readonly Lazy<IReadOnlyList<double[]>> scores;
    private readonly Dictionary<double, double?> widths = [];

    public FamilyShift(FamilyErrors errors, int[] observed, double[] residuals)
    {
        this.errors = errors;
        this.observed = observed;
        columns = [.. observed.Select(errors.Column)];
        factor = Factor(-1);
        solved = Solve(factor, residuals);
        adjusted = new(Adjust);
        scores = new(Scores);
    }

    /// <summary>How much the logarithm moves at a setting.</summary>
    /// <param name="setting">The setting; −1 for one never measured.</param>
    public double At(int setting)
    {
        double sum = 0;
        for (int k = 0; k < observed.Length; k++)
        {
            sum += errors.Covariance(setting, observed[k], columns[k], -1) * solved[k];
        }

        return sum;
    }

    /// <summary>The standard deviation of the logarithm that is left at a setting.</summary>
    /// <param name="setting">The setting; −1 for one never measured.</param>
    public double Deviation(int setting)
    {
        double[] covariances = [.. observed.Select((o, k) => errors.Covariance(setting, o, columns[k], -1))];
        return Left(errors.Covariance(setting, setting, setting < 0 ? null : errors.Squares(), -1), covariances, factor);
    }

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
        (double Sum, int Count)[] squares = errors.Squares();
        for (int family = 0; family < errors.Families; family++)
        {
            double[] own = errors.Residuals[family];
            double[] seen = [.. observed.Select(s => s < 0 ? double.NaN : own[s])];
            if (seen.Any(double.IsNaN))
            {
                continue;
            }

            double[][]? ownFactor = Factor(family);
            double[] weights = Solve(ownFactor, seen);
            double[] left = new double[own.Length];
            double[] deviations = new double[own.Length];
            double[] covariances = new double[observed.Length];
            for (int s = 0; s < own.Length; s++)
            {
                left[s] = double.NaN;
                if (double.IsNaN(own[s]) || Array.IndexOf(observed, s) >= 0)
                {
                    continue;
                }

                double move = 0;
                for (int k = 0; k < observed.Length; k++)
                {
                    covariances[k] = errors.Covariance(s, observed[k], columns[k], family);
                    move += covariances[k] * weights[k];
                }

                left[s] = own[s] - move;
                deviations[s] = Left(errors.Covariance(s, s, squares, family), covariances, ownFactor);
            }

            all.Add((left, deviations));
        }

        return all;
    }

    private double Left(double variance, double[] covariances, double[][]? lower)
    {
        double left = variance;
        if (lower is not null)
        {
            double[] half = [.. covariances];
            for (int i = 0; i < half.Length; i++)
            {
                half[i] = (half[i] - Profiles.Dense.Dot(lower[i], half, i)) / lower[i][i];
                left -= half[i] * half[i];
            }
        }

        // Something is always left: the repeat's own noise, and a hundredth of what was there.
        return Math.Sqrt(Math.Max(left, variance / 100) + errors.Noise);
    }

    private double[][]? Factor(int without)
    {
        if (observed.Length == 0)
        {
            return null;
        }

        double[][] matrix = [.. observed.Select((first, i) => observed.Select((_, j) =>
            errors.Covariance(first, observed[j], columns[j], without) + (i == j ? errors.Noise : 0)).ToArray())];
        double ridge = matrix.Select((r, i) => r[i]).Average() * 1e-6;
        while (true)
        {
            double[][] lower = [.. matrix.Select((r, i) => r.Select((v, j) => i == j ? v + ridge : v).ToArray())];
            if (Profiles.Dense.TryFactor(lower))
            {
                return lower;
            }

            ridge *= 10;
        }
    }

    private static double[] Solve(double[][]? lower, double[] right)
    {
        if (lower is null)
        {
            return [];
        }

        double[][] solution = [.. right.Select(r => new[] { r })];
        Profiles.Dense.Solve(lower, solution);
        return [.. solution.Select(c => c[0])];
    }
}
