using System.Globalization;
using PostPipeline.Quantities;
using PostPipeline.Quantities.Randomness;

namespace PostPipeline.RenderTimes;

/// <summary>
/// Compares two models on common rows. A row of a family that a model has learned from says nothing about families it
/// has not seen, so for such rows the model is learned again, with the same kind of predictor and from its own rows, without them.
/// </summary>
public static class ModelComparer
{
    /// <summary>The most rows compared; more are thinned at random.</summary>
    public const int MostRows = 20_000;

    private const int MostFolds = 5;
    private const int BootstrapDraws = 2_000;
    private const double Coverage = 0.9;

    /// <summary>Compares.</summary>
    /// <param name="rows">The common rows.</param>
    /// <param name="first">A model and the rows that it was learned from.</param>
    /// <param name="second">Another.</param>
    /// <param name="seed">Seed of thinning, folds and bootstrap.</param>
    /// <param name="progress">Told how many parts of the rows are done and how many there are.</param>
    /// <param name="cancellation">Ends the work between fits.</param>
    /// <exception cref="TrainingRefusedException">No row can be predicted by both.</exception>
    public static ModelComparison Compare(
        BenchmarkTable rows, (RenderTimeModel Model, BenchmarkTable Learned) first, (RenderTimeModel Model, BenchmarkTable Learned) second, long seed, Action<int, int>? progress = null, CancellationToken cancellation = default)
    {
        BenchmarkTable common = rows.Count <= MostRows ? rows : rows.Take(Thin(rows.Count, seed));
        HashSet<string> known = [.. first.Learned.Families, .. second.Learned.Families];
        int[] seen = [.. common.Family.Distinct().Where(f => known.Contains(common.Families[f])).Order()];
        int[] fold = seen.Length == 0 ? [] : FamilyFolds.Assign(seen.Length, MostFolds, seed);
        Scores scores = new(common, first.Model.Record.Id, second.Model.Record.Id);
        int last = fold.DefaultIfEmpty(-1).Max();
        for (int f = -1; f <= last; f++)
        {
            cancellation.ThrowIfCancellationRequested();
            HashSet<int> families = f < 0
                ? [.. common.Family.Except(seen)]
                : [.. seen.Where((_, i) => fold[i] == f)];
            HashSet<string> names = [.. families.Select(family => common.Families[family])];
            int[] members = [.. Enumerable.Range(0, common.Count).Where(r => families.Contains(common.Family[r]))];
            if (members.Length > 0 && scores.Try(members, () => Both(first, second, names, cancellation)) is var (one, other))
            {
                scores.Add(members, one, other, cancellation);
            }

            progress?.Invoke(f + 2, last + 2);
        }

        return scores.Result(seen.Length, seed);
    }

    private static (RenderTimeModel First, RenderTimeModel Second) Both(
        (RenderTimeModel Model, BenchmarkTable Learned) first, (RenderTimeModel Model, BenchmarkTable Learned) second, HashSet<string> families, CancellationToken cancellation)
    {
        RenderTimeModel one = Without(first, families, cancellation);
        return (one, second == first ? one : Without(second, families, cancellation));
    }

    // The model as it would be had these families never been measured.
    private static RenderTimeModel Without((RenderTimeModel Model, BenchmarkTable Learned) of, HashSet<string> families, CancellationToken cancellation)
    {
        BenchmarkTable learned = of.Learned;
        int[] left = [.. Enumerable.Range(0, learned.Count).Where(r => !families.Contains(learned.Families[learned.Family[r]]))];
        return left.Length == learned.Count ? of.Model : RenderTimeTrainer.TrainAgain(learned.Take(left).WithOccurringFamilies(), of.Model, cancellation);
    }

    private static int[] Thin(int count, long seed)
    {
        RandomStream random = new(seed, RandomPurpose.Folds, 3);
        SortedSet<int> chosen = [];
        while (chosen.Count < MostRows)
        {
            chosen.Add(random.NextBelow(count));
        }

        return [.. chosen];
    }

    private sealed class Scores(BenchmarkTable rows, string firstId, string secondId)
    {
        private readonly List<(int Family, double Measured, RenderTimeEstimate First, RenderTimeEstimate Second)> kept = [];
        private int leftOut;
        private string because = string.Empty;

        // Too few families may be left to learn from: then these rows are left out, with that reason.
        public (RenderTimeModel First, RenderTimeModel Second)? Try(int[] members, Func<(RenderTimeModel First, RenderTimeModel Second)> models)
        {
            try
            {
                return models();
            }
            catch (TrainingRefusedException refused)
            {
                LeaveOut(members.Length, refused.Message);
                return null;
            }
        }

        public void Add(int[] members, RenderTimeModel first, RenderTimeModel second, CancellationToken cancellation)
        {
            foreach (int row in members)
            {
                cancellation.ThrowIfCancellationRequested();
                if (TryPredict(first, row, out RenderTimeEstimate? one) && TryPredict(second, row, out RenderTimeEstimate? other))
                {
                    kept.Add((rows.Family[row], Math.Log(rows.SecondsPerFrame[row]), one!, other!));
                }
            }
        }

        public ModelComparison Result(int heldOut, long seed)
        {
            if (kept.Count == 0)
            {
                throw new TrainingRefusedException($"None of the {rows.Count} rows can be predicted by both models: {because}");
            }

            double[][] differences = [.. kept.GroupBy(k => k.Family).Select(g => g.Select(k => 100 * (Size(k.Second, k.Measured) - Size(k.First, k.Measured))).ToArray())];
            (double low, double high) = Interval(differences, seed);
            return new(
                Errors(firstId, k => k.First), Errors(secondId, k => k.Second), kept.Count, differences.Length, heldOut, leftOut, because,
                differences.SelectMany(d => d).Average(), low, high);
        }

        private bool TryPredict(RenderTimeModel model, int row, out RenderTimeEstimate? estimate)
        {
            if (model.TryPredict(Features(model.Schema, row), Coverage, out estimate, out RowViolation violation))
            {
                return true;
            }

            LeaveOut(1, $"{violation.Field}: {violation.Description}");
            return false;
        }

        private Dictionary<string, string> Features(TableSchema wanted, int row)
        {
            Dictionary<string, string> features = [];
            foreach (string name in wanted.NumberColumns.Concat(wanted.CategoryColumns))
            {
                int number = rows.Schema.NumberColumns.IndexOf(name);
                int category = rows.Schema.CategoryColumns.IndexOf(name);
                if (number >= 0 && !double.IsNaN(rows.Numbers[number][row]))
                {
                    features.Add(name, rows.Numbers[number][row].ToString("R", CultureInfo.InvariantCulture));
                }
                else if (category >= 0)
                {
                    features.Add(name, rows.Categories[category].Levels[rows.Categories[category].Codes[row]]);
                }
            }

            return features;
        }

        private void LeaveOut(int count, string reason)
        {
            because = leftOut == 0 ? reason : because;
            leftOut += count;
        }

        private ModelErrors Errors(string id, Func<(int Family, double Measured, RenderTimeEstimate First, RenderTimeEstimate Second), RenderTimeEstimate> of)
        {
            double[] measured = [.. kept.Select(k => k.Measured)];
            RenderTimeEstimate[] estimates = [.. kept.Select(of)];
            double[] inside = [.. estimates.Zip(measured).Where(p => !p.First.IntervalRefused).Select(p =>
                Math.Log(p.First.Low) <= p.Second && p.Second <= Math.Log(p.First.High) ? 1.0 : 0.0)];
            return new(id, HeldOutMetrics.From([.. estimates.Select(e => Math.Log(e.SecondsPerFrame))], measured), inside.Length == 0 ? null : inside.Average());
        }

        private static double Size(RenderTimeEstimate estimate, double measured) => Math.Abs((estimate.SecondsPerFrame / Math.Exp(measured)) - 1);

        // Rows of a family are alike, so whole families are drawn anew.
        private static (double Low, double High) Interval(double[][] families, long seed)
        {
            if (families.Length < 2)
            {
                return (double.NegativeInfinity, double.PositiveInfinity);
            }

            double[] means = new double[BootstrapDraws];
            for (int b = 0; b < means.Length; b++)
            {
                RandomStream random = new(seed, RandomPurpose.Bootstrap, b);
                double sum = 0;
                long count = 0;
                for (int i = 0; i < families.Length; i++)
                {
                    double[] family = families[random.NextBelow(families.Length)];
                    sum += family.Sum();
                    count += family.Length;
                }

                means[b] = sum / count;
            }

            return (Quantiles.Of(means, 0.025), Quantiles.Of(means, 0.975));
        }
    }
}
