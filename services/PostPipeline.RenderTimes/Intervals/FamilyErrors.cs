using System.Text.Json.Serialization;

namespace PostPipeline.RenderTimes.Intervals;

/// <summary>
/// The errors on families held out whole, by setting. They say how wide a band must be, and how errors at
/// different settings go together inside a family: that is what a few rows of a new family teach about its
/// other rows.
/// </summary>
/// <param name="Residuals">log(measured ÷ predicted) by family and setting; NaN where not measured.</param>
/// <param name="Noise">Variance of the logarithm between repeats.</param>
internal sealed record FamilyErrors(double[][] Residuals, double Noise)
{
    /// <summary>So many families count as much as what is assumed before any: that all settings of a family are alike, or that like families are as all are.</summary>
    public const double PriorFamilies = 12;

    private Moments? moments;
    private Present? present;

    /// <summary>How many families.</summary>
    [JsonIgnore]
    public int Families => Residuals.Length;

    /// <summary>How many settings.</summary>
    [JsonIgnore]
    public int Settings => Residuals[0].Length;

    /// <summary>The part of the errors' variance that all settings of a family share, 0 to 1.</summary>
    [JsonIgnore]
    public double SharedPart => GetMoments().Family / (GetMoments().Family + GetMoments().Setting);

    /// <summary>What a few measured rows of a new family change.</summary>
    /// <param name="settings">The setting of each row; −1 for one that no family measured.</param>
    /// <param name="errors">log(measured ÷ predicted) of each row.</param>
    public FamilyShift Condition(int[] settings, double[] errors) => new(this, settings, errors);

    /// <summary>The variance at a setting, or the covariance of two, with one family left out.</summary>
    /// <param name="first">A setting; −1 for one never measured.</param>
    /// <param name="second">A setting; −1 for one never measured.</param>
    /// <param name="column">Mean products of <paramref name="second"/> with every setting, as <see cref="Column"/> gives.</param>
    /// <param name="without">The family left out; −1 for none.</param>
    public double Covariance(int first, int second, (double Sum, int Count)[]? column, int without)
    {
        Moments m = GetMoments();
        double prior = m.Family + (first == second && first >= 0 ? m.Setting : 0);
        if (first < 0 || second < 0 || column is null)
        {
            return first < 0 && second < 0 ? m.Family + m.Setting : prior;
        }

        (double sum, int count) = column[first];
        if (without >= 0)
        {
            double product = Residuals[without][first] * Residuals[without][second];
            if (!double.IsNaN(product))
            {
                sum -= product;
                count--;
            }
        }

        return (sum + (PriorFamilies * prior)) / (count + PriorFamilies);
    }

    /// <summary>Sums and counts of the products of a setting's errors with every setting's.</summary>
    /// <param name="setting">The setting; −1 gives null.</param>
    public (double Sum, int Count)[]? Column(int setting)
    {
        if (setting < 0)
        {
            return null;
        }

        (double Sum, int Count)[] column = new (double, int)[Residuals[0].Length];
        foreach (double[] family in Residuals)
        {
            double value = family[setting];
            if (double.IsNaN(value))
            {
                continue;
            }

            for (int s = 0; s < column.Length; s++)
            {
                if (!double.IsNaN(family[s]))
                {
                    column[s].Sum += value * family[s];
                    column[s].Count++;
                }
            }
        }

        return column;
    }

    /// <summary>Sums and counts of the squares of every setting's errors.</summary>
    public (double Sum, int Count)[] Squares() => GetMoments().Squares;

    /// <summary>Moves covariances, in their place, towards those of like families.</summary>
    /// <param name="covariances">Of every setting with <paramref name="with"/>, over all families.</param>
    /// <param name="with">The other setting; −1 for variances, of every setting with itself.</param>
    /// <param name="likeness">How much each family counts, 0 to 1.</param>
    public void Localise(double[] covariances, int with, double[] likeness)
    {
        Present p = present ??= Present.From(Residuals);
        double[] sums = new double[Settings];
        double[] counts = new double[Settings];
        double all = 0;
        for (int family = 0; family < likeness.Length; family++)
        {
            double weight = likeness[family];
            if (weight == 0 || (with >= 0 && double.IsNaN(Residuals[family][with])))
            {
                continue;
            }

            Profiles.Dense.Add(with < 0 ? weight : weight * Residuals[family][with], with < 0 ? p.Squares[family] : p.Values[family], sums, sums.Length);
            all += weight;
            if (p.Marks is not null)
            {
                Profiles.Dense.Add(weight, p.Marks[family], counts, counts.Length);
            }
        }

        for (int s = 0; s < sums.Length; s++)
        {
            covariances[s] = (sums[s] + (PriorFamilies * covariances[s])) / ((p.Marks is null ? all : counts[s]) + PriorFamilies);
        }
    }

    private Moments GetMoments() => moments ??= Moments.From(Residuals);

    // The errors with 0 where a family lacks a setting, their squares, and marks of what is there (null where all are).
    private sealed record Present(double[][] Values, double[][] Squares, double[][]? Marks)
    {
        public static Present From(double[][] residuals)
        {
            double[][] values = [.. residuals.Select(r => Array.ConvertAll(r, v => double.IsNaN(v) ? 0 : v))];
            bool complete = residuals.All(r => !r.Any(double.IsNaN));
            return new(
                values,
                [.. values.Select(r => Array.ConvertAll(r, v => v * v))],
                complete ? null : [.. residuals.Select(r => Array.ConvertAll(r, v => double.IsNaN(v) ? 0.0 : 1.0))]);
        }
    }

    // The variance that a family's settings share, and what each setting has of its own: by moments.
    private sealed record Moments(double Family, double Setting, (double Sum, int Count)[] Squares)
    {
        public static Moments From(double[][] residuals)
        {
            (double Sum, int Count)[] squares = new (double, int)[residuals[0].Length];
            double total = 0;
            double cross = 0;
            int families = 0;
            int pairs = 0;
            foreach (double[] family in residuals)
            {
                double sum = 0;
                double square = 0;
                int count = 0;
                for (int s = 0; s < family.Length; s++)
                {
                    double value = family[s];
                    if (!double.IsNaN(value))
                    {
                        sum += value;
                        square += value * value;
                        count++;
                        squares[s].Sum += value * value;
                        squares[s].Count++;
                    }
                }

                if (count > 0)
                {
                    total += square / count;
                    families++;
                }

                if (count > 1)
                {
                    cross += ((sum * sum) - square) / ((double)count * (count - 1));
                    pairs++;
                }
            }

            double variance = Math.Max(total / Math.Max(families, 1), 1e-8);
            double shared = pairs > 0 ? Math.Clamp(cross / pairs, 0, variance) : variance;
            return new(shared, variance - shared, squares);
        }
    }
}
