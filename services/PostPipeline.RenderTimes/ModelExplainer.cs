using System.Collections.Immutable;
using System.Globalization;
using PostPipeline.Quantities;
using PostPipeline.Quantities.Randomness;
using PostPipeline.RenderTimes.Features;

namespace PostPipeline.RenderTimes;

/// <summary>Says what drives a predictor, from outside: it only asks it questions.</summary>
internal static class ModelExplainer
{
    private const int MostRows = 400;
    private const int DependenceRows = 60;
    private const int GridPoints = 9;
    private const int MostLevels = 20;

    /// <summary>Permutation importance on rows that the predictor has not seen.</summary>
    /// <param name="table">Held-out rows.</param>
    /// <param name="features">The features to shuffle: a name and the columns that move together.</param>
    /// <param name="predict">Log seconds per frame of numbers and category values.</param>
    /// <param name="seed">Seed of the shuffles.</param>
    /// <param name="cancellation">Ends the work.</param>
    public static ImmutableArray<FeatureImportance> Importance(
        BenchmarkTable table,
        IReadOnlyList<(string Name, int[] Numbers, int[] Categories)> features,
        Func<double[], string[], double> predict,
        long seed,
        CancellationToken cancellation)
    {
        (double[] Numbers, string[] Categories, double Measured)[] rows = [.. Sample(table, MostRows)
            .Select(r => (Numbers(table, r), Categories(table, r), Math.Log(table.SecondsPerFrame[r])))];
        double plain = rows.Average(r => Math.Abs(r.Measured - predict(r.Numbers, r.Categories)));
        List<FeatureImportance> found = [];
        for (int f = 0; f < features.Count; f++)
        {
            cancellation.ThrowIfCancellationRequested();
            RandomStream random = new(seed, RandomPurpose.Bootstrap, f);
            int[] order = [.. Enumerable.Range(0, rows.Length)];
            for (int i = order.Length - 1; i > 0; i--)
            {
                int other = random.NextBelow(i + 1);
                (order[i], order[other]) = (order[other], order[i]);
            }

            double shuffled = rows.Select((row, i) =>
            {
                double[] numbers = [.. row.Numbers];
                string[] categories = [.. row.Categories];
                foreach (int n in features[f].Numbers)
                {
                    numbers[n] = rows[order[i]].Numbers[n];
                }

                foreach (int c in features[f].Categories)
                {
                    categories[c] = rows[order[i]].Categories[c];
                }

                return Math.Abs(row.Measured - predict(numbers, categories));
            }).Average();
            found.Add(new(features[f].Name, shuffled - plain));
        }

        return [.. found.OrderByDescending(i => i.Increase).ThenBy(i => i.Feature, StringComparer.Ordinal)];
    }

    /// <summary>Partial dependence on each feature.</summary>
    /// <param name="table">Rows.</param>
    /// <param name="numbers">Positions of number columns to move.</param>
    /// <param name="categories">Positions of category columns to move.</param>
    /// <param name="predict">Log seconds per frame of numbers and category values.</param>
    /// <param name="cancellation">Ends the work.</param>
    public static ImmutableArray<PartialDependence> Dependence(
        BenchmarkTable table,
        IEnumerable<int> numbers,
        IEnumerable<int> categories,
        Func<double[], string[], double> predict,
        CancellationToken cancellation)
    {
        (double[] Numbers, string[] Categories)[] rows = [.. Sample(table, DependenceRows).Select(r => (Numbers(table, r), Categories(table, r)))];
        ImmutableArray<PartialDependence>.Builder all = ImmutableArray.CreateBuilder<PartialDependence>();
        foreach (int n in numbers)
        {
            cancellation.ThrowIfCancellationRequested();
            double[] present = [.. table.Numbers[n].Where(v => !double.IsNaN(v)).Order()];
            double[] grid = present.Length == 0
                ? []
                : [.. Enumerable.Range(0, GridPoints).Select(i => Quantiles.OfSorted(present, i / (GridPoints - 1.0))).Distinct()];
            all.Add(new(
                table.Schema.NumberColumns[n],
                [.. grid.Select(v => v.ToString("R", CultureInfo.InvariantCulture))],
                [.. grid.Select(v => Mean(rows, (x, c) => x[n] = v, predict))]));
        }

        foreach (int c in categories)
        {
            cancellation.ThrowIfCancellationRequested();
            string[] levels = [.. table.Categories[c].Codes.Distinct().Order().Take(MostLevels).Select(code => table.Categories[c].Levels[code])];
            all.Add(new(table.Schema.CategoryColumns[c], [.. levels], [.. levels.Select(level => Mean(rows, (_, x) => x[c] = level, predict))]));
        }

        return all.ToImmutable();
    }

    /// <summary>The values of a row's number columns.</summary>
    /// <param name="table">The rows.</param>
    /// <param name="row">The position.</param>
    public static double[] Numbers(BenchmarkTable table, int row) => [.. table.Numbers.Select(n => n[row])];

    /// <summary>The values of a row's category columns.</summary>
    /// <param name="table">The rows.</param>
    /// <param name="row">The position.</param>
    public static string[] Categories(BenchmarkTable table, int row) => [.. table.Categories.Select(c => c.Levels[c.Codes[row]])];

    /// <summary>A way to ask an encoder and a predictor of encoded rows.</summary>
    /// <param name="encoder">The encoder.</param>
    /// <param name="predict">The predictor.</param>
    public static Func<double[], string[], double> Ask(FeatureEncoder encoder, Func<double[], double> predict) => (numbers, categories) =>
        predict(encoder.Encode(numbers, [.. categories.Select((value, i) => encoder.Categories[i].Levels.IndexOf(value))]));

    private static double Mean(
        (double[] Numbers, string[] Categories)[] rows, Action<double[], string[]> move, Func<double[], string[], double> predict) =>
        Math.Exp(rows.Average(row =>
        {
            double[] numbers = [.. row.Numbers];
            string[] categories = [.. row.Categories];
            move(numbers, categories);
            return predict(numbers, categories);
        }));

    private static IEnumerable<int> Sample(BenchmarkTable table, int most)
    {
        int step = Math.Max(1, table.Count / most);

        // A step that shares no factor with the number of settings visits all of them.
        while (step > 1 && table.Count % step == 0)
        {
            step++;
        }

        return Enumerable.Range(0, table.Count).Where(r => r % step == 0).Take(most);
    }
}
