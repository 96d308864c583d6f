using PostPipeline.RenderTimes.Profiles;

namespace PostPipeline.RenderTimes.Intervals;

/// <summary>
/// The errors of one family, given those at a few settings: the best linear estimate at every other setting, and what is
/// left to doubt. How errors go together is learned most from the families whose errors at the same settings were alike.
/// </summary>
/// <remarks>
/// Kriging with a covariance local to what was observed: a family counts by exp(−q/2k), q the squared distance of its
/// errors at the k observed settings in the covariance of all families, and all families together count as much as
/// <see cref="FamilyErrors.PriorFamilies"/> more. One covariance for all would let loud and quiet families, and those whose
/// settings scale alike and those whose do not, blur each other.
/// </remarks>
internal sealed class ConditionedErrors
{
    private readonly FamilyErrors errors;
    private readonly int[] observed;
    private readonly (double Sum, int Count)[]?[] columns;
    private readonly double[][] cross;
    private readonly double[] variances;

    // With the covariance of all families: what is asked of a setting that no family measured.
    private readonly double[][]? usualFactor;
    private readonly double[] usualSolved;
    private readonly double[][]? factor;
    private readonly double[] solved;

    /// <summary>Conditions on rows.</summary>
    /// <param name="errors">The calibration families.</param>
    /// <param name="observed">The setting of each row; −1 for one never measured.</param>
    /// <param name="columns">Mean products of each observed setting with every setting.</param>
    /// <param name="seen">log(measured ÷ predicted) of each row.</param>
    /// <param name="without">A calibration family that must not speak about itself; −1 for none.</param>
    public ConditionedErrors(FamilyErrors errors, int[] observed, (double Sum, int Count)[]?[] columns, double[] seen, int without)
    {
        (this.errors, this.observed, this.columns) = (errors, observed, columns);
        int settings = errors.Settings;
        (double Sum, int Count)[] squares = errors.Squares();
        variances = new double[settings];
        cross = [.. observed.Select(_ => new double[settings])];
        for (int s = 0; s < settings; s++)
        {
            variances[s] = errors.Covariance(s, s, squares, without);
            for (int k = 0; k < cross.Length; k++)
            {
                cross[k][s] = errors.Covariance(s, observed[k], columns[k], without);
            }
        }

        factor = usualFactor = Factor();
        solved = usualSolved = Solve(factor, seen);
        if (observed.Length > 0 && observed.All(o => o >= 0))
        {
            double[] likeness = Likeness(factor!, seen, without);
            for (int k = 0; k < cross.Length; k++)
            {
                errors.Localise(cross[k], observed[k], likeness);
            }

            errors.Localise(variances, -1, likeness);
            factor = Factor();
            solved = Solve(factor, seen);
        }
    }

    /// <summary>The estimate at a setting.</summary>
    /// <param name="setting">The setting; −1 for one never measured.</param>
    public double At(int setting)
    {
        double sum = 0;
        for (int k = 0; k < observed.Length; k++)
        {
            sum += Cross(setting, k) * (setting < 0 ? usualSolved : solved)[k];
        }

        return sum;
    }

    /// <summary>The standard deviation that is left at a setting.</summary>
    /// <param name="setting">The setting; −1 for one never measured.</param>
    public double Deviation(int setting)
    {
        double variance = setting < 0 ? errors.Covariance(-1, -1, null, -1) : variances[setting];
        double left = variance;
        if ((setting < 0 ? usualFactor : factor) is double[][] lower)
        {
            double[] half = new double[observed.Length];
            for (int i = 0; i < half.Length; i++)
            {
                half[i] = (Cross(setting, i) - Dense.Dot(lower[i], half, i)) / lower[i][i];
                left -= half[i] * half[i];
            }
        }

        // Something is always left: the repeat's own noise, and a hundredth of what was there.
        return Math.Sqrt(Math.Max(left, variance / 100) + errors.Noise);
    }

    private double Cross(int setting, int k) =>
        setting < 0 ? errors.Covariance(setting, observed[k], columns[k], -1) : cross[k][setting];

    private double[] Likeness(double[][] lower, double[] seen, int without)
    {
        double[] likeness = new double[errors.Families];
        double[] off = new double[observed.Length];
        for (int family = 0; family < likeness.Length; family++)
        {
            double distance = 0;
            for (int k = 0; k < off.Length; k++)
            {
                off[k] = (errors.Residuals[family][observed[k]] - seen[k] - Dense.Dot(lower[k], off, k)) / lower[k][k];
                distance += off[k] * off[k];
            }

            // A family that lacks one of the settings says nothing here; it is still among all families.
            likeness[family] = family == without || double.IsNaN(distance) ? 0 : Math.Exp(-distance / (2 * off.Length));
        }

        return likeness;
    }

    private double[][]? Factor()
    {
        if (observed.Length == 0)
        {
            return null;
        }

        double[][] matrix = [.. observed.Select((first, i) => observed.Select((_, j) => Cross(first, j) + (i == j ? errors.Noise : 0)).ToArray())];
        double ridge = matrix.Select((r, i) => r[i]).Average() * 1e-6;
        while (true)
        {
            double[][] lower = [.. matrix.Select((r, i) => r.Select((v, j) => i == j ? v + ridge : v).ToArray())];
            if (Dense.TryFactor(lower))
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
        Dense.Solve(lower, solution);
        return [.. solution.Select(c => c[0])];
    }
}
