using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;
using PostPipeline.Quantities;
using PostPipeline.RenderTimes.Features;
using PostPipeline.RenderTimes.Intervals;
using PostPipeline.RenderTimes.Predictors;

namespace PostPipeline.RenderTimes;

/// <summary>
/// Chooses a predictor by cross-validation over whole families, calibrates its band on the errors that it made
/// on them, and refuses a model that does not beat a trivial baseline.
/// </summary>
public static class RenderTimeTrainer
{
    /// <summary>The fewest families a model can be tried on.</summary>
    public const int FewestFamilies = 3;

    /// <summary>With at most this many families each is held out alone.</summary>
    public const int LeaveOneOutFamilies = 10;

    private const int Folds = 7;

    /// <summary>Trains a model. Same table and seed: same model.</summary>
    /// <param name="table">The measurements.</param>
    /// <param name="seed">Seed of folds and trees.</param>
    /// <param name="cancellation">Ends the work between fits; a fit that runs is finished and its result dropped.</param>
    /// <exception cref="TrainingRefusedException">There are too few families, or the baseline is not beaten.</exception>
    public static RenderTimeModel Train(BenchmarkTable table, long seed, CancellationToken cancellation = default)
    {
        int families = table.Families.Length;
        if (families < FewestFamilies)
        {
            throw new TrainingRefusedException(
                $"The set has {families} families ('{table.Schema.FamilyColumn}'); at least {FewestFamilies} are needed to try a model on one it has not seen.");
        }

        int[] foldOfFamily = FamilyFolds.Assign(families, families <= LeaveOneOutFamilies ? families : Folds, seed);
        int folds = foldOfFamily.Max() + 1;
        double[] measured = [.. table.SecondsPerFrame.Select(s => Math.Log(s))];
        ImmutableArray<PredictorKind> kinds = PredictorKind.Candidates(table.Count);
        double[][] heldOut = new double[kinds.Length][];
        for (int kind = 0; kind < kinds.Length; kind++)
        {
            heldOut[kind] = new double[table.Count];
        }

        double[] baseline = new double[table.Count];
        for (int fold = 0; fold < folds; fold++)
        {
            int[] training = [.. Enumerable.Range(0, table.Count).Where(r => foldOfFamily[table.Family[r]] != fold)];
            int[] testing = [.. Enumerable.Range(0, table.Count).Where(r => foldOfFamily[table.Family[r]] == fold)];
            BenchmarkTable seen = table.Take(training);
            BenchmarkTable unseen = table.Take(testing);
            FeatureEncoder encoder = FeatureEncoder.Learn(seen);
            double[][] rows = encoder.Encode(seen);
            double[][] questions = encoder.Encode(unseen);
            double[] response = [.. training.Select(r => measured[r])];
            double[] weights = FamilyWeights(seen);
            double[] trivial = Baseline(seen, response, unseen);
            for (int i = 0; i < testing.Length; i++)
            {
                baseline[testing[i]] = trivial[i];
            }

            for (int kind = 0; kind < kinds.Length; kind++)
            {
                cancellation.ThrowIfCancellationRequested();
                AdditivePredictor predictor = AdditivePredictor.Fit(kinds[kind], rows, response, weights, TreeSeed(seed), cancellation);
                for (int i = 0; i < testing.Length; i++)
                {
                    heldOut[kind][testing[i]] = predictor.Predict(questions[i]);
                }
            }
        }

        HeldOutMetrics[] metrics = [.. heldOut.Select(h => HeldOutMetrics.From(h, measured))];
        HeldOutMetrics trivialMetrics = HeldOutMetrics.From(baseline, measured);
        int best = Enumerable.Range(0, kinds.Length).MinBy(k => metrics[k].LogDeviation);
        if (!Beats(table, measured, heldOut[best], baseline))
        {
            throw new TrainingRefusedException(
                $"On families held out whole the best model ({kinds[best].Name}) is {metrics[best].MeanPercent:F1} % off on average, no better than "
                + $"the median of rows with the same categories ({trivialMetrics.MeanPercent:F1} %); the features do not explain the times.");
        }

        FeatureEncoder all = FeatureEncoder.Learn(table);
        AdditivePredictor final = AdditivePredictor.Fit(kinds[best], all.Encode(table), measured, FamilyWeights(table), TreeSeed(seed), cancellation);
        cancellation.ThrowIfCancellationRequested();
        double[] ratios = [.. measured.Select((m, i) => m - heldOut[best][i])];
        ImmutableArray<double[]> scores = [.. Enumerable.Range(0, families).Select(f =>
            ratios.Where((_, i) => table.Family[i] == f).Select(Math.Abs).Order().ToArray())];
        ModelRecord record = new(
            ModelId(table.ContentHash, seed), table.ContentHash, table.Invented, seed, table.Count, families, kinds[best].Name, metrics[best], trivialMetrics);
        return RenderTimeModel.FromParts(new(
            record, table.Schema, all, final, MeasuredDomain.Learn(table, all), scores, ratios.Min(), ratios.Max()));
    }

    // Family by family the mean size of the log error must be smaller, by 5 % at least and by more than the families'
    // own scatter explains (one-sided, 95 %): the best of several candidates always looks a little better by luck.
    private static bool Beats(BenchmarkTable table, double[] measured, double[] predicted, double[] baseline)
    {
        int families = table.Families.Length;
        double[] ours = new double[families];
        double[] theirs = new double[families];
        int[] rows = new int[families];
        for (int i = 0; i < measured.Length; i++)
        {
            ours[table.Family[i]] += Math.Abs(measured[i] - predicted[i]);
            theirs[table.Family[i]] += Math.Abs(measured[i] - baseline[i]);
            rows[table.Family[i]]++;
        }

        double[] gain = [.. ours.Select((o, f) => (theirs[f] - o) / rows[f])];
        double mean = gain.Average();
        double error = Math.Sqrt(gain.Sum(g => (g - mean) * (g - mean)) / (families - 1) / families);
        return ours.Sum() < 0.95 * theirs.Sum() && mean > 1.645 * error;
    }

    private static int TreeSeed(long seed) => (int)(seed & 0x3fffffff);

    /// <summary>The name that a model on a set will have.</summary>
    /// <param name="dataHash">Content hash of the set.</param>
    /// <param name="seed">Seed of folds and trees.</param>
    public static string ModelId(string dataHash, long seed) =>
        Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes($"{dataHash}|{seed}|{ModelRecord.Algorithm}")));

    // Every family has the same say, however many rows it brought.
    private static double[] FamilyWeights(BenchmarkTable table)
    {
        Dictionary<int, int> counts = table.Family.GroupBy(f => f).ToDictionary(g => g.Key, g => g.Count());
        double scale = (double)table.Count / counts.Count;
        return [.. table.Family.Select(f => scale / counts[f])];
    }

    // The median of the rows with the same categories, or of all rows where there is none.
    private static double[] Baseline(BenchmarkTable seen, double[] response, BenchmarkTable unseen)
    {
        Dictionary<string, double> medians = Enumerable.Range(0, seen.Count)
            .GroupBy(r => Combination(seen, r), StringComparer.Ordinal)
            .ToDictionary(g => g.Key, g => Quantiles.Of(g.Select(r => response[r]).ToArray(), 0.5), StringComparer.Ordinal);
        double overall = Quantiles.Of(response, 0.5);
        return [.. Enumerable.Range(0, unseen.Count).Select(r => medians.GetValueOrDefault(Combination(unseen, r), overall))];
    }

    private static string Combination(BenchmarkTable table, int row) =>
        string.Join('\u001f', table.Categories.Select(c => c.Levels[c.Codes[row]]));
}
