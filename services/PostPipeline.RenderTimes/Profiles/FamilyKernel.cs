using PostPipeline.RenderTimes.Features;

namespace PostPipeline.RenderTimes.Profiles;

/// <summary>
/// How alike two families are: a rational quadratic of their scaled distance, a linear part (which extrapolates),
/// and a share for each category that they have in common.
/// </summary>
/// <remarks>Kernels as in Rasmussen and Williams, Gaussian Processes for Machine Learning, 2006, chapter 4.</remarks>
/// <param name="LogLengths">Logarithm of the length of each number column, in its standard deviations.</param>
/// <param name="LogLinear">Logarithm of the linear part's weight.</param>
/// <param name="LogCategory">Logarithm of a shared category's weight.</param>
/// <param name="LogSmooth">Logarithm of the smooth part's weight.</param>
/// <param name="LogShape">Logarithm of the rational quadratic's shape.</param>
/// <param name="LogNoise">Logarithm of the variance that no feature explains.</param>
internal sealed record FamilyKernel(double[] LogLengths, double LogLinear, double LogCategory, double LogSmooth, double LogShape, double LogNoise)
{
    // The level of all families together is left free.
    private const double Constant = 5;

    /// <summary>A start for tuning.</summary>
    /// <param name="numbers">How many number columns.</param>
    public static FamilyKernel Start(int numbers) =>
        new([.. Enumerable.Repeat(Math.Log(5), numbers)], Math.Log(0.02), 0, 0, Math.Log(0.2), Math.Log(0.1));

    /// <summary>All parameters as one list.</summary>
    public double[] ToParameters() => [.. LogLengths, LogLinear, LogCategory, LogSmooth, LogShape, LogNoise];

    /// <summary>The kernel of a list of parameters.</summary>
    /// <param name="p">As <see cref="ToParameters"/> gives.</param>
    public static FamilyKernel FromParameters(double[] p) => new(p[..^5], p[^5], p[^4], p[^3], p[^2], p[^1]);

    /// <summary>Likeness of every pair; the noise stands on the diagonal of a square of the same points.</summary>
    /// <param name="left">Points.</param>
    /// <param name="right">Other points.</param>
    /// <param name="same">Whether both are the same list; then only the lower half is made.</param>
    public double[][] Between(FamilyPoint[] left, FamilyPoint[] right, bool same)
    {
        double[] scale = [.. LogLengths.Select(l => Math.Exp(-l))];
        double linear = Math.Exp(LogLinear);
        double category = Math.Exp(LogCategory);
        double smooth = Math.Exp(LogSmooth);
        double shape = Math.Exp(LogShape);
        double noise = Math.Exp(LogNoise);
        double[][] a = [.. left.Select(p => p.Scaled(scale))];
        double[][] b = same ? a : [.. right.Select(p => p.Scaled(scale))];
        double[][] rows = new double[left.Length][];
        for (int i = 0; i < rows.Length; i++)
        {
            double[] row = new double[right.Length];
            int end = same ? i + 1 : right.Length;
            for (int j = 0; j < end; j++)
            {
                double distance = 0;
                for (int d = 0; d < scale.Length; d++)
                {
                    double difference = a[i][d] - b[j][d];
                    distance += difference * difference;
                }

                row[j] = Constant
                    + (smooth * Math.Exp(-shape * Math.Log(1 + (distance / (2 * shape)))))
                    + (linear * Dense.Dot(left[i].Numbers, right[j].Numbers, scale.Length))
                    + (category * left[i].Shared(right[j]));
            }

            if (same)
            {
                row[i] += noise;
            }

            rows[i] = row;
        }

        return rows;
    }
}

/// <summary>A family as a point: standardised numbers and categories.</summary>
/// <param name="Numbers">Encoded numbers, less their mean, over their deviation.</param>
/// <param name="Codes">The level of each category; −1 for one never seen.</param>
internal sealed record FamilyPoint(double[] Numbers, int[] Codes)
{
    public double[] Scaled(double[] scale)
    {
        double[] scaled = new double[Numbers.Length];
        for (int i = 0; i < scaled.Length; i++)
        {
            scaled[i] = Numbers[i] * scale[i];
        }

        return scaled;
    }

    public int Shared(FamilyPoint other)
    {
        int shared = 0;
        for (int i = 0; i < Codes.Length; i++)
        {
            shared += Codes[i] >= 0 && Codes[i] == other.Codes[i] ? 1 : 0;
        }

        return shared;
    }
}

/// <summary>Turns what describes a family into a point.</summary>
/// <param name="Encoder">How features become numbers.</param>
/// <param name="Means">Mean of each encoded number.</param>
/// <param name="Deviations">Standard deviation of each encoded number.</param>
internal sealed record FamilyScaling(FeatureEncoder Encoder, double[] Means, double[] Deviations)
{
    /// <summary>Learns the scaling.</summary>
    /// <param name="families">One row for each family.</param>
    public static FamilyScaling Learn(BenchmarkTable families)
    {
        FeatureEncoder encoder = FeatureEncoder.Learn(families) with { Combinations = [] };
        int width = encoder.NumberWidth;
        double[][] rows = encoder.Encode(families);
        double[] means = new double[width];
        double[] deviations = new double[width];
        for (int i = 0; i < width; i++)
        {
            means[i] = rows.Average(r => r[i]);
            deviations[i] = Math.Sqrt(rows.Average(r => (r[i] - means[i]) * (r[i] - means[i])));
            deviations[i] = deviations[i] > 1e-9 ? deviations[i] : 1;
        }

        return new(encoder, means, deviations);
    }

    /// <summary>The points of a table of families.</summary>
    /// <param name="families">One row for each family.</param>
    public FamilyPoint[] Points(BenchmarkTable families) => [.. Encoder.Encode(families).Select(Point)];

    /// <summary>The point of an encoded row.</summary>
    /// <param name="encoded">Encoded by <see cref="Encoder"/>.</param>
    public FamilyPoint Point(double[] encoded)
    {
        double[] numbers = new double[Means.Length];
        for (int i = 0; i < numbers.Length; i++)
        {
            numbers[i] = (encoded[i] - Means[i]) / Deviations[i];
        }

        int[] codes = new int[Encoder.Categories.Length];
        int at = numbers.Length;
        for (int c = 0; c < codes.Length; c++)
        {
            int levels = Encoder.Categories[c].Levels.Length;
            codes[c] = Array.IndexOf(encoded, 1.0, at, levels) - at;
            codes[c] = codes[c] < 0 ? -1 : codes[c];
            at += levels;
        }

        return new(numbers, codes);
    }
}
