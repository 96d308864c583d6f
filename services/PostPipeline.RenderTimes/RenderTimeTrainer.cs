using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;
using PostPipeline.Quantities;
using PostPipeline.Quantities.Randomness;
using PostPipeline.RenderTimes.Features;
using PostPipeline.RenderTimes.Intervals;
using PostPipeline.RenderTimes.Predictors;
using PostPipeline.RenderTimes.Profiles;

namespace PostPipeline.RenderTimes;

/// <summary>
/// Chooses a predictor by cross-validation over whole families, calibrates its band on the errors that it made
/// on them, and refuses a model that does not beat a trivial baseline.
/// </summary>
public static class RenderTimeTrainer
{
    /// <summary>The fewest families a model can be tried on.</summary>
    public const int FewestFamilies = 3;

    /// <summary>Predictors of rows are tried on so many rows at most, drawn at random, where profiles can be learned too.</summary>
    public const int RowSample = 4_000;

    // What repeats differ by where the table has none: the machine's own scatter and the clock's step, about 2 %.
    private const double UsualNoise = 0.0005;

    // The final fit, and what drives it.
    private const int RowSteps = 2;

    // The least part of the errors' variance that the settings of a family must share.
    private const double LeastShared = 0.25;

    /// <summary>Trains a model. Same table and seed: same model.</summary>
    /// <param name="table">The measurements.</param>
    /// <param name="seed">Seed of folds and trees.</param>
    /// <param name="progress">Told how many steps are done and how many there will be; called by one thread at a time, and never goes back.</param>
    /// <param name="cancellation">Ends the work between fits; a fit that runs is finished and its result dropped.</param>
    /// <exception cref="TrainingRefusedException">There are too few families, or the baseline is not beaten.</exception>
    public static RenderTimeModel Train(BenchmarkTable table, long seed, Action<int, int>? progress = null, CancellationToken cancellation = default)
    {
        int families = table.Family.Distinct().Count();
        if (families < FewestFamilies)
        {
            throw new TrainingRefusedException(
                $"The set has {families} families ('{table.Schema.FamilyColumn}'); at least {FewestFamilies} are needed to try a model on one it has not seen.");
        }

        CrossedDesign? design = CrossedDesign.TryFrom(table);
        BenchmarkTable tried = Tried(table, design, seed);
        ImmutableArray<PredictorKind> kinds = PredictorKind.Candidates(tried.Count);
        TrainingSteps steps = new(progress, RowTrial.Steps(tried, kinds) + (design is null ? RowSteps : ProfileTrainer.Steps(design) + 1));
        RowTrial trial = RowTrial.Run(tried, kinds, seed, steps, cancellation);
        ModelParts? parts = design is null ? null : FitProfiles(table, design, trial, seed, families, steps, cancellation);
        if (parts is null)
        {
            steps.Expect(design is null ? 0 : RowSteps - 1);
            parts = FitRows(table, trial, seed, families, true, steps, cancellation);
        }

        return RenderTimeModel.FromParts(parts);
    }

    /// <summary>
    /// Learns a model again from other rows, with the kind of predictor that was chosen for it, to see how it errs on families
    /// that it has not seen. A predictor of rows is not chosen anew and not explained, which is most of the work.
    /// </summary>
    /// <param name="table">The measurements.</param>
    /// <param name="like">The model.</param>
    /// <param name="cancellation">Ends the work between fits.</param>
    /// <exception cref="TrainingRefusedException">There are too few families, or the baseline is not beaten.</exception>
    internal static RenderTimeModel TrainAgain(BenchmarkTable table, RenderTimeModel like, CancellationToken cancellation)
    {
        long seed = like.Record.Seed;
        int families = table.Family.Distinct().Count();
        BenchmarkTable tried = Tried(table, CrossedDesign.TryFrom(table), seed);
        return families >= FewestFamilies && PredictorKind.Named(like.Record.Kind, tried.Count) is { } kind
            ? RenderTimeModel.FromParts(FitRows(table, RowTrial.Run(tried, [kind], seed, TrainingSteps.Untold, cancellation), seed, families, false, TrainingSteps.Untold, cancellation))
            : Train(table, seed, null, cancellation);
    }

    /// <summary>The name that a model on a set will have.</summary>
    /// <param name="dataHash">Content hash of the set.</param>
    /// <param name="seed">Seed of folds and trees.</param>
    public static string ModelId(string dataHash, long seed) =>
        Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes($"{dataHash}|{seed}|{ModelRecord.Algorithm}")));

    private static ModelParts FitRows(
        BenchmarkTable table, RowTrial trial, long seed, int families, bool explained, TrainingSteps steps, CancellationToken cancellation)
    {
        if (!trial.Beats)
        {
            throw new TrainingRefusedException(
                $"On families held out whole the best model ({trial.Kind.Name}) is {trial.Metrics.MeanPercent:F1} % off on average (median {trial.Metrics.MedianPercent:F1} %), no better than "
                + $"the median of rows with the same categories ({trial.Baseline.MeanPercent:F1} %, median {trial.Baseline.MedianPercent:F1} %); the features do not explain the times.");
        }

        double[] measured = [.. table.SecondsPerFrame.Select(s => Math.Log(s))];
        FeatureEncoder encoder = FeatureEncoder.Learn(table);
        AdditivePredictor final = AdditivePredictor.Fit(trial.Kind, encoder.Encode(table), measured, RowTrial.FamilyWeights(table), TreeSeed(seed), cancellation);
        steps.Done();
        cancellation.ThrowIfCancellationRequested();
        SettingColumns columns = new([.. Enumerable.Range(0, table.Categories.Length)], []);
        (ImmutableArray<string> settings, FamilyErrors errors) = Errors(trial.Table, trial.HeldOut, columns);
        (ImmutableArray<FeatureImportance> importance, ImmutableArray<PartialDependence> dependence) =
            explained ? Explain(table, trial, encoder, final, seed, cancellation) : ([], []);
        steps.Done();
        ModelRecord record = new(
            ModelId(table.ContentHash, seed), table.ContentHash, table.Invented, seed, table.Count, families, trial.Kind.Name,
            trial.Metrics, trial.Baseline, trial.Candidates, importance, dependence);
        return new(record, table.Schema, encoder, final, null, columns, settings, MeasuredDomain.Learn(table, encoder), errors);
    }

    private static (ImmutableArray<FeatureImportance> Importance, ImmutableArray<PartialDependence> Dependence) Explain(
        BenchmarkTable table, RowTrial trial, FeatureEncoder encoder, AdditivePredictor final, long seed, CancellationToken cancellation)
    {
        // What drives the prediction is asked on families that this fit has not seen.
        (int[] training, int[] testing) = RowTrial.Split(trial.Table, trial.Fold, 0);
        BenchmarkTable seen = trial.Table.Take(training);
        FeatureEncoder part = FeatureEncoder.Learn(seen);
        AdditivePredictor without = AdditivePredictor.Fit(
            trial.Kind, part.Encode(seen), [.. training.Select(r => Math.Log(trial.Table.SecondsPerFrame[r]))], RowTrial.FamilyWeights(seen), TreeSeed(seed), cancellation);
        ImmutableArray<FeatureImportance> importance = ModelExplainer.Importance(
            trial.Table.Take(testing),
            [
                .. table.Schema.NumberColumns.Select((name, i) => (name, new[] { i }, Array.Empty<int>())),
                .. table.Schema.CategoryColumns.Select((name, i) => (name, Array.Empty<int>(), new[] { i })),
            ],
            ModelExplainer.Ask(part, without.Predict),
            seed,
            cancellation);
        ImmutableArray<PartialDependence> dependence = ModelExplainer.Dependence(
            table, Enumerable.Range(0, table.Numbers.Length), Enumerable.Range(0, table.Categories.Length), ModelExplainer.Ask(encoder, final.Predict), cancellation);
        return (importance, dependence);
    }

    private static ModelParts? FitProfiles(
        BenchmarkTable table, CrossedDesign design, RowTrial trial, long seed, int families, TrainingSteps steps, CancellationToken cancellation)
    {
        (ProfilePredictor predictor, double[][] residuals) = ProfileTrainer.Train(design, seed, steps, cancellation);
        double[] measured = [.. design.Times.SelectMany(t => t).Where(v => !double.IsNaN(v))];
        double[] predicted = [.. design.Times.SelectMany((t, f) => t.Select((v, s) => v - residuals[f][s])).Where(v => !double.IsNaN(v))];
        HeldOutMetrics metrics = HeldOutMetrics.From(predicted, measured);

        // Predictors of rows extrapolate over settings, profiles cannot: they must be clearly better to be taken. Without
        // features a profile is worth something only where rows of a family are alike, so that a few measured ones help.
        FamilyErrors errors = new(residuals, UsualNoise);
        if ((trial.Beats && 0.95 * trial.Metrics.LogDeviation <= metrics.LogDeviation) || (!predictor.HasFeatures && errors.SharedPart < LeastShared))
        {
            return null;
        }

        // The baseline of profiles: the median of each setting over the other families.
        double[] medians = [.. design.Settings.Select((_, s) => Quantiles.Of(design.Times.Select(t => t[s]).Where(v => !double.IsNaN(v)).ToArray(), 0.5))];
        double[] trivial = [.. design.Times.SelectMany(t => t.Select((v, s) => (v, s))).Where(c => !double.IsNaN(c.v)).Select(c => medians[c.s])];
        HeldOutMetrics baseline = HeldOutMetrics.From(trivial, measured);
        if (predictor.HasFeatures && !(metrics.MeanPercent < 0.95 * baseline.MeanPercent && metrics.LogDeviation < 0.95 * baseline.LogDeviation))
        {
            throw new TrainingRefusedException(
                $"On families held out whole the model is {metrics.MeanPercent:F1} % off on average, no better than the median of each setting "
                + $"({baseline.MeanPercent:F1} %); the features do not explain the times.");
        }

        string kind = predictor.HasFeatures
            ? $"profiles over {design.Settings.Length} settings: kernel model with {100 * predictor.TreeShare:0} % boosted trees"
            : $"profiles over {design.Settings.Length} settings: nothing describes the families, so a new one gets the settings' means until rows of it are measured";
        FeatureEncoder familyEncoder = predictor.Scaling.Encoder;
        (ImmutableArray<FeatureImportance> importance, ImmutableArray<PartialDependence> dependence) =
            predictor.HasFeatures ? Explain(design, predictor, seed, cancellation) : ([], []);
        steps.Done();
        ModelRecord record = new(
            ModelId(table.ContentHash, seed), table.ContentHash, table.Invented, seed, table.Count, families, kind, metrics, baseline,
            [new(kind, metrics), .. trial.Candidates], importance, dependence);
        return new(
            record, table.Schema, FeatureEncoder.Learn(table) with { Combinations = [] }, null, predictor, design.Columns, design.Settings,
            MeasuredDomain.Learn(design.Families, familyEncoder), errors);
    }

    private static (ImmutableArray<FeatureImportance> Importance, ImmutableArray<PartialDependence> Dependence) Explain(
        CrossedDesign design, ProfilePredictor predictor, long seed, CancellationToken cancellation)
    {
        int[] fold = FamilyFolds.Assign(design.Times.Length, 5, seed);
        int[] training = [.. Enumerable.Range(0, fold.Length).Where(f => fold[f] != 0)];
        int[] testing = [.. Enumerable.Range(0, fold.Length).Where(f => fold[f] == 0)];
        ProfilePredictor without = ProfilePredictor.Fit(design.Take(training), predictor.Kernel, predictor.TreeShare, TreeSeed(seed), cancellation);

        // A family's level over all settings stands for its times.
        BenchmarkTable families = design.Families;
        BenchmarkTable levels = families.Take(testing).WithSeconds(
            [.. testing.Select(f => Math.Exp(design.Times[f].Where(v => !double.IsNaN(v)).Average()))]);
        ImmutableArray<FeatureImportance> importance = ModelExplainer.Importance(
            levels,
            [
                .. families.Schema.NumberColumns.Select((name, i) => (name, new[] { i }, Array.Empty<int>())),
                .. families.Schema.CategoryColumns.Select((name, i) => (name, Array.Empty<int>(), new[] { i })),
            ],
            ModelExplainer.Ask(without.Scaling.Encoder, row => without.Predict(row).Average()),
            seed,
            cancellation);
        ImmutableArray<PartialDependence> dependence = ModelExplainer.Dependence(
            families,
            Enumerable.Range(0, families.Numbers.Length),
            Enumerable.Range(0, families.Categories.Length),
            ModelExplainer.Ask(predictor.Scaling.Encoder, row => predictor.Predict(row).Average()),
            cancellation);
        return (importance, dependence);
    }

    // One error for each family and setting: repeats count as one.
    private static (ImmutableArray<string> Settings, FamilyErrors Errors) Errors(BenchmarkTable table, double[] predicted, SettingColumns columns)
    {
        string[] keys = [.. Enumerable.Range(0, table.Count).Select(r => columns.Key(table, r))];
        ImmutableArray<string> settings = [.. keys.Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)];
        Dictionary<string, int> index = settings.Select((key, i) => (key, i)).ToDictionary(s => s.key, s => s.i, StringComparer.Ordinal);
        int[] families = [.. table.Family.Distinct().Order()];
        Dictionary<int, int> position = families.Select((family, i) => (family, i)).ToDictionary(f => f.family, f => f.i);
        double[][] sums = [.. families.Select(_ => new double[settings.Length])];
        int[][] counts = [.. families.Select(_ => new int[settings.Length])];
        for (int row = 0; row < table.Count; row++)
        {
            int family = position[table.Family[row]];
            sums[family][index[keys[row]]] += Math.Log(table.SecondsPerFrame[row]) - predicted[row];
            counts[family][index[keys[row]]]++;
        }

        for (int family = 0; family < sums.Length; family++)
        {
            for (int s = 0; s < settings.Length; s++)
            {
                sums[family][s] = counts[family][s] > 0 ? sums[family][s] / counts[family][s] : double.NaN;
            }
        }

        return (settings, new(sums, UsualNoise));
    }

    private static BenchmarkTable Tried(BenchmarkTable table, CrossedDesign? design, long seed) =>
        design is null || table.Count <= RowSample ? table : table.Take(SampleRows(table.Count, seed));

    private static int[] SampleRows(int count, long seed)
    {
        RandomStream random = new(seed, RandomPurpose.Folds, 2);
        SortedSet<int> chosen = [];
        while (chosen.Count < RowSample)
        {
            chosen.Add(random.NextBelow(count));
        }

        return [.. chosen];
    }

    internal static int TreeSeed(long seed) => (int)(seed & 0x3fffffff);
}
