using System.Collections.Immutable;
using PostPipeline.Quantities;
using PostPipeline.RenderTimes.Features;
using PostPipeline.RenderTimes.Predictors;

namespace PostPipeline.RenderTimes;

/// <summary>Kinds of predictors of rows, and the trivial baseline, tried on the same families held out whole.</summary>
/// <param name="Table">The rows tried on.</param>
/// <param name="Fold">The fold of each family.</param>
/// <param name="Kind">The kind that erred least.</param>
/// <param name="HeldOut">Its log seconds per frame of every row, made without the row's family.</param>
/// <param name="Metrics">How far off it was.</param>
/// <param name="Baseline">How far off the baseline was.</param>
/// <param name="Candidates">How far off each kind was.</param>
/// <param name="Beats">Whether the baseline is beaten by more than luck.</param>
internal sealed record RowTrial(
    BenchmarkTable Table,
    int[] Fold,
    PredictorKind Kind,
    double[] HeldOut,
    HeldOutMetrics Metrics,
    HeldOutMetrics Baseline,
    ImmutableArray<CandidateMetrics> Candidates,
    bool Beats)
{
    // With at most this many families each is held out alone.
    private const int LeaveOneOutFamilies = 10;

    private const int HeldOutParts = 7;

    /// <summary>How many fits a trial makes at most.</summary>
    /// <param name="table">The measurements.</param>
    /// <param name="kinds">The kinds.</param>
    public static int Steps(BenchmarkTable table, ImmutableArray<PredictorKind> kinds) => Parts(table) * kinds.Length;

    /// <summary>Tries kinds of predictors.</summary>
    /// <param name="table">The measurements.</param>
    /// <param name="kinds">The kinds, one at least.</param>
    /// <param name="seed">Seed of folds and trees.</param>
    /// <param name="steps">Counts the fits.</param>
    /// <param name="cancellation">Ends the work between fits.</param>
    public static RowTrial Run(BenchmarkTable table, ImmutableArray<PredictorKind> kinds, long seed, TrainingSteps steps, CancellationToken cancellation)
    {
        int families = table.Families.Length;
        int[] fold = FamilyFolds.Assign(families, Parts(table), seed);
        double[] measured = [.. table.SecondsPerFrame.Select(s => Math.Log(s))];
        double[][] heldOut = new double[kinds.Length][];
        for (int kind = 0; kind < kinds.Length; kind++)
        {
            heldOut[kind] = new double[table.Count];
        }

        double[] baseline = new double[table.Count];
        Folds.Each(fold.Max() + 1, f =>
        {
            (int[] training, int[] testing) = Split(table, fold, f);
            if (training.Length == 0 || testing.Length == 0)
            {
                steps.Expect(-kinds.Length);
                return;
            }

            BenchmarkTable seen = table.Take(training);
            BenchmarkTable unseen = table.Take(testing);
            FeatureEncoder encoder = FeatureEncoder.Learn(seen);
            double[][] rows = encoder.Encode(seen);
            double[][] questions = encoder.Encode(unseen);
            double[] response = [.. training.Select(r => measured[r])];
            double[] weights = FamilyWeights(seen);
            double[] trivial = Trivial(seen, response, unseen);
            for (int i = 0; i < testing.Length; i++)
            {
                baseline[testing[i]] = trivial[i];
            }

            for (int kind = 0; kind < kinds.Length; kind++)
            {
                cancellation.ThrowIfCancellationRequested();
                AdditivePredictor predictor = AdditivePredictor.Fit(kinds[kind], rows, response, weights, RenderTimeTrainer.TreeSeed(seed), cancellation);
                for (int i = 0; i < testing.Length; i++)
                {
                    heldOut[kind][testing[i]] = predictor.Predict(questions[i]);
                }

                steps.Done();
            }
        }, cancellation);

        HeldOutMetrics[] metrics = [.. heldOut.Select(h => HeldOutMetrics.From(h, measured))];
        int best = Enumerable.Range(0, kinds.Length).MinBy(k => metrics[k].LogDeviation);
        return new(
            table,
            fold,
            kinds[best],
            heldOut[best],
            metrics[best],
            HeldOutMetrics.From(baseline, measured),
            [.. kinds.Select((k, i) => new CandidateMetrics(k.Name, metrics[i]))],
            metrics[best].MedianPercent < HeldOutMetrics.From(baseline, measured).MedianPercent && IsBeaten(table, measured, heldOut[best], baseline));
    }

    /// <summary>The rows outside a fold and the rows in it.</summary>
    public static (int[] Training, int[] Testing) Split(BenchmarkTable table, int[] fold, int held) =>
        ([.. Enumerable.Range(0, table.Count).Where(r => fold[table.Family[r]] != held)],
        [.. Enumerable.Range(0, table.Count).Where(r => fold[table.Family[r]] == held)]);

    private static int Parts(BenchmarkTable table) => table.Families.Length <= LeaveOneOutFamilies ? table.Families.Length : HeldOutParts;

    // Family by family the mean size of the log error must be smaller, by 5 % at least and by more than the families'
    // own scatter explains (one-sided, 95 %): the best of several candidates always looks a little better by luck.
    private static bool IsBeaten(BenchmarkTable table, double[] measured, double[] predicted, double[] baseline)
    {
        double[] gain = [.. Enumerable.Range(0, table.Count)
            .GroupBy(r => table.Family[r])
            .Select(g => g.Average(r => Math.Abs(measured[r] - baseline[r]) - Math.Abs(measured[r] - predicted[r])))];
        double ours = measured.Select((m, i) => Math.Abs(m - predicted[i])).Sum();
        double theirs = measured.Select((m, i) => Math.Abs(m - baseline[i])).Sum();
        double mean = gain.Average();
        double error = Math.Sqrt(gain.Sum(g => (g - mean) * (g - mean)) / (gain.Length - 1) / gain.Length);
        return ours < 0.95 * theirs && mean > 1.645 * error;
    }

    /// <summary>Weights that give every family the same say, however many rows it brought.</summary>
    public static double[] FamilyWeights(BenchmarkTable table)
    {
        Dictionary<int, int> counts = table.Family.GroupBy(f => f).ToDictionary(g => g.Key, g => g.Count());
        double scale = (double)table.Count / counts.Count;
        return [.. table.Family.Select(f => scale / counts[f])];
    }

    // The median of the rows with the same categories, or of all rows where there is none.
    private static double[] Trivial(BenchmarkTable seen, double[] response, BenchmarkTable unseen)
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
