using PostPipeline.Quantities.Randomness;

namespace PostPipeline.Domain.Tests.Farms;

/// <summary>Estimates of one measure from independent replications, and the interval that a table of checks asks for.</summary>
internal static class QueueEstimates
{
    /// <summary>Mean and half-width of independent replications.</summary>
    public static (double Mean, double HalfWidth) Interval(IReadOnlyList<double> replications, double confidence) =>
        Interval(replications, [.. replications.Select(_ => Array.Empty<double>())], confidence);

    /// <summary>
    /// Mean and half-width with control variates (Lavenberg and Welch, Management Science 27, 1981): the replications are
    /// regressed on controls of expectation 0, and the intercept is the estimate. In heavy traffic a queue's mean and the
    /// work offered to it correlate by √½, so the interval is that of twice as many jobs.
    /// </summary>
    public static (double Mean, double HalfWidth) Interval(IReadOnlyList<double> replications, IReadOnlyList<double[]> controls, double confidence)
    {
        int n = replications.Count;
        int[] varying = [.. Enumerable.Range(0, controls[0].Length).Where(k => controls.Any(c => c[k] != controls[0][k]))];
        int q = varying.Length;
        double mean = replications.Average();
        double[] controlMeans = [.. varying.Select(k => controls.Average(c => c[k]))];
        double[][] centred = [.. controls.Select(c => varying.Select((k, i) => c[k] - controlMeans[i]).ToArray())];
        double[] scales = [.. Enumerable.Range(0, q).Select(i => Math.Sqrt(centred.Sum(c => c[i] * c[i])))];
        double[,] system = new double[q, q + 2];
        for (int i = 0; i < q; i++)
        {
            for (int j = 0; j < q; j++)
            {
                system[i, j] = centred.Sum(c => c[i] * c[j]) / scales[i] / scales[j];
            }

            system[i, q] = Enumerable.Range(0, n).Sum(r => centred[r][i] * (replications[r] - mean)) / scales[i];
            system[i, q + 1] = controlMeans[i] / scales[i];
        }

        Eliminate(system, q);
        double residual = Enumerable.Range(0, n).Sum(r =>
        {
            double left = replications[r] - mean;
            for (int i = 0; i < q; i++)
            {
                left -= system[i, q] * centred[r][i] / scales[i];
            }

            return left * left;
        });
        double estimate = mean;
        double leverage = 1.0 / n;
        for (int i = 0; i < q; i++)
        {
            estimate -= system[i, q] * controlMeans[i] / scales[i];
            leverage += system[i, q + 1] * controlMeans[i] / scales[i];
        }

        int freedom = n - 1 - q;
        return (estimate, Student(confidence, freedom) * Math.Sqrt(residual / freedom * leverage));
    }

    // Gauss and Jordan on a correlation matrix: positive definite, so the diagonal will do as pivot.
    private static void Eliminate(double[,] system, int size)
    {
        int width = system.GetLength(1);
        for (int p = 0; p < size; p++)
        {
            double pivot = system[p, p];
            for (int j = p; j < width; j++)
            {
                system[p, j] /= pivot;
            }

            for (int i = 0; i < size; i++)
            {
                double factor = system[i, p];
                for (int j = p; i != p && j < width; j++)
                {
                    system[i, j] -= factor * system[p, j];
                }
            }
        }
    }

    // Student's t by its expansion about the normal (Abramowitz and Stegun 26.7.5).
    private static double Student(double confidence, double v)
    {
        double z = NormalDistribution.Quantile((1 + confidence) / 2);
        return z + (((z * z * z) + z) / (4 * v)) + (((5 * Math.Pow(z, 5)) + (16 * z * z * z) + (3 * z)) / (96 * v * v))
            + (((3 * Math.Pow(z, 7)) + (19 * Math.Pow(z, 5)) + (17 * z * z * z) - (15 * z)) / (384 * v * v * v));
    }
}
