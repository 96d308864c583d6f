using System.Diagnostics;
using PostPipeline.Quantities;
using PostPipeline.Quantities.Randomness;
using PostPipeline.RenderTimes;
using PostPipeline.RenderTimes.Intervals;
using PostPipeline.RenderTimes.Profiles;

namespace PostPipeline.Domain.Tests.RenderTimes;

/// <summary>
/// Predictions on whole videos, and whole machines, held out: their errors, how often 90 % bands cover, and what a few rows
/// of the family change. The tests assert on it; the benchmark prints it with its time.
/// </summary>
internal static class HeldOutTrial
{
    /// <summary>Numbers of own rows on the curve.</summary>
    public static readonly int[] OwnRows = [1, 3, 5, 10];

    // Bands after own rows take a calibration of their own for each family, so they are asked of a part of the families.
    private const int BandRows = 5;
    private const int BandEvery = 10;

    /// <summary>Five folds by video, or the first of them.</summary>
    /// <param name="folds">How many of the five.</param>
    /// <param name="say">Told which kind each fold took.</param>
    public static Tally Videos(int folds, Action<string> say)
    {
        BenchmarkTable table = EncodeTimes.Videos(every: 1);
        int[] foldOfFamily = FamilyFolds.Assign(table.Families.Length, 5, 11);
        Tally tally = new();
        for (int fold = 0; fold < folds; fold++)
        {
            int[] training = [.. Enumerable.Range(0, table.Count).Where(r => foldOfFamily[table.Family[r]] != fold)];
            int[] testing = [.. Enumerable.Range(0, table.Count).Where(r => foldOfFamily[table.Family[r]] == fold)];
            Stopwatch watch = Stopwatch.StartNew();
            RenderTimeModel model = RenderTimeTrainer.Train(table.Take(training), seed: 5);
            tally.Training += watch.Elapsed;
            Score(model, table.Take(testing), tally);
            say($"fold {fold}: {model.Record.Kind}");
        }

        return tally;
    }

    /// <summary>One machine left out at a time.</summary>
    /// <param name="most">How many machines; all where there are fewer.</param>
    public static Tally Machines(int most)
    {
        BenchmarkTable table = EncodeTimes.Machines();
        Tally tally = new();
        for (int machine = 0; machine < Math.Min(most, table.Families.Length); machine++)
        {
            int[] training = [.. Enumerable.Range(0, table.Count).Where(r => table.Family[r] != machine)];
            int[] testing = [.. Enumerable.Range(0, table.Count).Where(r => table.Family[r] == machine)];
            Stopwatch watch = Stopwatch.StartNew();
            CrossedDesign design = CrossedDesign.TryFrom(table.Take(training))!;
            (ProfilePredictor predictor, double[][] residuals) = ProfileTrainer.Train(design, 5, TrainingSteps.Untold, default);
            tally.Training += watch.Elapsed;
            ScoreFamily(predictor.Predict([]), new FamilyErrors(residuals, 0.0005), Times(design, table.Take(testing)), machine, tally);
        }

        return tally;
    }

    /// <summary>The result as lines for people.</summary>
    /// <param name="what">What was held out.</param>
    /// <param name="tally">The result.</param>
    public static IEnumerable<string> Lines(string what, Tally tally)
    {
        HeldOutMetrics metrics = tally.Errors();
        (double low, double high) = tally.Bootstrap();
        yield return FormattableString.Invariant($"{what}: {tally.Covered.Count} held out, choice, fit and calibration {tally.Training.TotalSeconds:F1} s");
        yield return FormattableString.Invariant($"  MAPE {metrics.MeanPercent:F2} %, median {metrics.MedianPercent:F2} %, bias {metrics.BiasPercent:F2} %, worst 5 % beyond {metrics.Worst5Percent:F1} %");
        yield return FormattableString.Invariant($"  90 % bands cover {100 * tally.Covered.Average():F2} % (families resampled, 95 % interval: {100 * low:F2} to {100 * high:F2} %)");
        yield return FormattableString.Invariant($"  90 % bands after {BandRows} own rows cover {100 * tally.CoveredAfter.Average():F2} % of the other rows of {tally.CoveredAfter.Count} families");
        foreach (int count in OwnRows)
        {
            yield return FormattableString.Invariant($"  after {count} own rows: MAPE {tally.After[count].Average():F2} %, median {Quantiles.Of([.. tally.After[count]], 0.5):F2} %");
        }
    }

    private static double[] Times(CrossedDesign design, BenchmarkTable rows)
    {
        double[] times = [.. Enumerable.Repeat(double.NaN, design.Settings.Length)];
        for (int row = 0; row < rows.Count; row++)
        {
            int setting = Array.BinarySearch([.. design.Settings], design.Columns.Key(rows, row), StringComparer.Ordinal);
            if (setting >= 0)
            {
                times[setting] = Math.Log(rows.SecondsPerFrame[row]);
            }
        }

        return times;
    }

    private static void Score(RenderTimeModel model, BenchmarkTable unseen, Tally tally)
    {
        ModelParts parts = model.ToParts();
        CrossedDesign design = CrossedDesign.TryFrom(unseen)!;
        double[][] encoded = parts.Profile!.Scaling.Encoder.Encode(design.Families);
        for (int f = 0; f < encoded.Length; f++)
        {
            double[] times = [.. Enumerable.Repeat(double.NaN, parts.Settings.Length)];
            for (int s = 0; s < design.Settings.Length; s++)
            {
                int setting = Array.BinarySearch([.. parts.Settings], design.Settings[s], StringComparer.Ordinal);
                if (setting >= 0)
                {
                    times[setting] = design.Times[f][s];
                }
            }

            ScoreFamily(parts.Profile!.Predict(encoded[f]), parts.Errors, times, design.Families.Family[f], tally);
        }
    }

    private static void ScoreFamily(double[] predicted, FamilyErrors errors, double[] measured, int family, Tally tally)
    {
        FamilyShift plain = tally.Plain(errors);
        int[] known = [.. Enumerable.Range(0, measured.Length).Where(s => !double.IsNaN(measured[s]))];
        tally.Add(predicted, measured, known, plain);
        foreach (int count in OwnRows)
        {
            RandomStream random = new(17, RandomPurpose.Folds, count, family);
            HashSet<int> own = [];
            while (own.Count < count)
            {
                own.Add(known[random.NextBelow(known.Length)]);
            }

            int[] observed = [.. own.Order()];
            FamilyShift shift = errors.Condition(observed, [.. observed.Select(s => measured[s] - predicted[s])]);
            if (count == BandRows && family % BandEvery == 0)
            {
                double width = shift.Width(0.9)!.Value;
                tally.CoveredAfter.Add(known.Where(s => !own.Contains(s)).Average(s => Math.Abs(measured[s] - predicted[s] - shift.At(s)) <= width * shift.Deviation(s) ? 1.0 : 0.0));
            }

            tally.After[count].AddRange(known.Where(s => !own.Contains(s)).Select(s => 100 * Math.Abs(Math.Exp(predicted[s] + shift.At(s) - measured[s]) - 1)));
        }
    }

    /// <summary>What was found so far.</summary>
    internal sealed class Tally
    {
        private readonly List<double> predicted = [];
        private readonly List<double> measured = [];
        private (FamilyErrors Errors, FamilyShift Shift, double Width, double[] Deviations)? last;

        public TimeSpan Training { get; set; }

        public List<double> Covered { get; } = [];

        public List<double> CoveredAfter { get; } = [];

        public Dictionary<int, List<double>> After { get; } = OwnRows.ToDictionary(c => c, _ => new List<double>());

        public HeldOutMetrics Errors() => HeldOutMetrics.From([.. predicted], [.. measured]);

        public FamilyShift Plain(FamilyErrors errors)
        {
            if (last is null || !ReferenceEquals(last.Value.Errors, errors))
            {
                FamilyShift shift = errors.Condition([], []);
                last = (errors, shift, shift.Width(0.9)!.Value, [.. Enumerable.Range(0, errors.Residuals[0].Length).Select(shift.Deviation)]);
            }

            return last.Value.Shift;
        }

        public void Add(double[] prediction, double[] truth, int[] known, FamilyShift shift)
        {
            if (!ReferenceEquals(shift, last!.Value.Shift))
            {
                throw new InvalidOperationException("scored against another family's shift");
            }

            predicted.AddRange(known.Select(s => prediction[s]));
            measured.AddRange(known.Select(s => truth[s]));
            Covered.Add(known.Average(s => Math.Abs(truth[s] - prediction[s]) <= last.Value.Width * last.Value.Deviations[s] ? 1.0 : 0.0));
        }

        // The 95 % interval of the pooled coverage when whole families are drawn anew.
        public (double Low, double High) Bootstrap()
        {
            double[] means = new double[2_000];
            for (int b = 0; b < means.Length; b++)
            {
                RandomStream random = new(23, RandomPurpose.Bootstrap, b);
                for (int i = 0; i < Covered.Count; i++)
                {
                    means[b] += Covered[random.NextBelow(Covered.Count)] / Covered.Count;
                }
            }

            return (Quantiles.Of(means, 0.025), Quantiles.Of(means, 0.975));
        }
    }
}
