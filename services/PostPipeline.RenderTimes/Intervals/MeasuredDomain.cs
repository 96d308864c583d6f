using System.Collections.Immutable;
using PostPipeline.RenderTimes.Features;

namespace PostPipeline.RenderTimes.Intervals;

/// <summary>
/// What was measured: the range of each number, the combinations of categories, and how far rows of one family
/// lie from the nearest row of another. A question beyond these is answered with a wider band, and says so.
/// </summary>
/// <param name="Ranges">Smallest and largest value of each number column.</param>
/// <param name="Scales">The spread of each encoded number, for distances.</param>
/// <param name="Combinations">Each distinct row of encoded numbers, by its categories.</param>
/// <param name="UsualDistance">The distance to the nearest row of another family that 95 % of rows keep to.</param>
internal sealed record MeasuredDomain(
    ImmutableArray<MeasuredRange> Ranges,
    double[] Scales,
    ImmutableArray<CategoryCombination> Combinations,
    double UsualDistance)
{
    private const int MostPoints = 4_000;

    /// <summary>Learns the domain.</summary>
    /// <param name="table">Training rows.</param>
    /// <param name="encoder">Their encoding.</param>
    public static MeasuredDomain Learn(BenchmarkTable table, FeatureEncoder encoder)
    {
        int numbers = encoder.Numbers.Length;
        ImmutableArray<MeasuredRange> ranges = [.. encoder.Numbers.Select((n, i) =>
        {
            double[] present = [.. table.Numbers[i].Where(v => !double.IsNaN(v))];
            return new MeasuredRange(n.Name, present.DefaultIfEmpty(double.NaN).Min(), present.DefaultIfEmpty(double.NaN).Max());
        })];
        double[][] points = [.. Enumerable.Range(0, table.Count).Select(row =>
            encoder.Numbers.Select((n, i) => n.Encode(table.Numbers[i][row])).ToArray())];
        double[] scales = new double[numbers];
        for (int i = 0; i < numbers; i++)
        {
            double mean = points.Average(p => p[i]);
            double deviation = Math.Sqrt(points.Average(p => (p[i] - mean) * (p[i] - mean)));
            scales[i] = deviation > 1e-12 ? deviation : 1;
        }

        // One point for each family, combination and set of numbers: repeats say nothing about the domain.
        var distinct = Enumerable.Range(0, table.Count)
            .Select(row => (
                Row: row,
                Combination: string.Join('\u001f', table.Categories.Select(c => c.Levels[c.Codes[row]])),
                Key: $"{table.Family[row]}|{string.Join('|', table.Categories.Select(c => c.Codes[row]))}|{string.Join('|', points[row])}"))
            .DistinctBy(r => r.Key)
            .ToArray();
        int step = ((distinct.Length - 1) / MostPoints) + 1;
        var kept = distinct.Where((_, i) => i % step == 0).ToArray();
        ImmutableArray<CategoryCombination> combinations = [.. kept
            .GroupBy(r => r.Combination, StringComparer.Ordinal)
            .Select(g => new CategoryCombination(g.Key, [.. g.Select(r => points[r.Row])]))];
        MeasuredDomain domain = new(ranges, scales, combinations, 0);
        double[] nearest = [.. kept.GroupBy(r => r.Combination, StringComparer.Ordinal).SelectMany(g =>
        {
            var members = g.ToArray();
            int stride = ((members.Length - 1) / 300) + 1;
            return members.Where((_, i) => i % stride == 0).Select(a => members
                .Where(b => table.Family[b.Row] != table.Family[a.Row])
                .Select(b => domain.Distance(points[a.Row], points[b.Row]))
                .DefaultIfEmpty(double.NaN).Min());
        }).Where(d => !double.IsNaN(d))];
        return domain with { UsualDistance = nearest.Length > 0 ? PostPipeline.Quantities.Quantiles.Of(nearest, 0.95) : 0 };
    }

    /// <summary>Where a question lies.</summary>
    /// <param name="encoder">The encoding.</param>
    /// <param name="numbers">Values of the number columns.</param>
    /// <param name="categories">Values of the category columns.</param>
    public DomainAnswer Locate(FeatureEncoder encoder, ReadOnlySpan<double> numbers, IReadOnlyList<string> categories)
    {
        List<string> notes = [];
        double[] point = new double[numbers.Length];
        double beyond = 0;
        for (int i = 0; i < numbers.Length; i++)
        {
            point[i] = encoder.Numbers[i].Encode(numbers[i]);
            if (numbers[i] < Ranges[i].Low || numbers[i] > Ranges[i].High)
            {
                notes.Add($"{Ranges[i].Name} is {numbers[i]:G6}; measured was {Ranges[i].Low:G6} to {Ranges[i].High:G6}");
                double edge = encoder.Numbers[i].Encode(numbers[i] < Ranges[i].Low ? Ranges[i].Low : Ranges[i].High);
                beyond = Math.Max(beyond, Math.Abs(point[i] - edge) / Scales[i]);
            }
        }

        string combination = string.Join('\u001f', categories);
        CategoryCombination? measured = Combinations.FirstOrDefault(c => c.Key == combination);
        if (measured is null && categories.Count > 0)
        {
            notes.Add($"the combination {string.Join(", ", categories)} was not measured");
            beyond = Math.Max(beyond, 1);
        }

        IEnumerable<double[]> near = measured?.Points ?? Combinations.SelectMany(c => c.Points);
        double distance = near.Select(p => Distance(p, point)).DefaultIfEmpty(0).Min();
        if (UsualDistance > 0 && distance > 2 * UsualDistance)
        {
            if (notes.Count == 0)
            {
                notes.Add($"each value lies within its range, but together they lie {distance / UsualDistance:F1} times as far from any measured row as is usual");
            }

            beyond = Math.Max(beyond, (distance / (2 * UsualDistance)) - 1);
        }

        return new(notes.Count > 0, 1 + Math.Min(beyond, 9), notes);
    }

    /// <summary>The domain as one sentence.</summary>
    /// <param name="encoder">The encoding.</param>
    public string Describe(FeatureEncoder encoder) => string.Join("; ", [
        .. Ranges.Where(r => !double.IsNaN(r.Low)).Select(r => r.Low == r.High ? $"{r.Name} {r.Low:G6}" : $"{r.Name} {r.Low:G6} to {r.High:G6}"),
        .. encoder.Categories.Select(c => c.Levels.Length <= 12 ? $"{c.Name} {string.Join(", ", c.Levels)}" : $"{c.Name}: {c.Levels.Length} values"),
    ]);

    private double Distance(double[] a, double[] b)
    {
        double sum = 0;
        for (int i = 0; i < a.Length; i++)
        {
            double difference = (a[i] - b[i]) / Scales[i];
            sum += difference * difference;
        }

        return Math.Sqrt(sum);
    }
}

/// <summary>The range of a number that was measured.</summary>
/// <param name="Name">The column.</param>
/// <param name="Low">The smallest value; NaN where none was given.</param>
/// <param name="High">The largest value.</param>
internal sealed record MeasuredRange(string Name, double Low, double High);

/// <summary>Rows that share their categories.</summary>
/// <param name="Key">The categories, joined.</param>
/// <param name="Points">Their encoded numbers.</param>
internal sealed record CategoryCombination(string Key, double[][] Points);

/// <summary>Where a question lies.</summary>
/// <param name="Outside">Whether outside what was measured.</param>
/// <param name="Widening">The factor on the band's half-width: 1 inside, growing with the distance, 10 at most.</param>
/// <param name="Notes">What lies outside.</param>
internal sealed record DomainAnswer(bool Outside, double Widening, IReadOnlyList<string> Notes);
