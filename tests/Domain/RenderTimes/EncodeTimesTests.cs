using System.Diagnostics;
using PostPipeline.Quantities;
using PostPipeline.Quantities.Randomness;
using PostPipeline.RenderTimes;
using PostPipeline.RenderTimes.Intervals;
using PostPipeline.RenderTimes.Profiles;
using PostPipeline.Testing;
using Xunit;
using Xunit.Abstractions;

namespace PostPipeline.Domain.Tests.RenderTimes;

/// <summary>
/// Outside data: predictions on whole videos, and whole machines, that the model has not seen. With
/// POSTPIPELINE_LONG=1 all five folds and all machines; otherwise one fold and four machines.
/// </summary>
public class EncodeTimesTests(ITestOutputHelper output)
{
    private static readonly int[] OwnRows = [1, 3, 5, 10];

    private static bool Long => Environment.GetEnvironmentVariable("POSTPIPELINE_LONG") == "1";

    [SkippableFact]
    public void Inputs_ContainNoResultOfTheRun()
    {
        foreach (BenchmarkTable table in new[] { EncodeTimes.Videos(every: 100), EncodeTimes.Machines() })
        {
            Assert.Empty(table.Schema.CategoryColumns.Concat(table.Schema.NumberColumns).Intersect(EncodeTimes.Results));
            Assert.Empty(table.Schema.Columns.Except(["etime"]).Intersect(EncodeTimes.Results));
        }
    }

    // Floors: an untuned general library reached MAPE 12.9 % and median 9.2 % on five folds by video; log-linear in
    // setting and pixels × frames reached 26–30 %.
    [SkippableFact]
    public void Train_VideosHeldOut_BeatsTheFloorsAndCovers()
    {
        BenchmarkTable table = EncodeTimes.Videos(every: 1);
        int[] foldOfFamily = FamilyFolds.Assign(table.Families.Length, 5, 11);
        Tally tally = new();
        Stopwatch watch = Stopwatch.StartNew();
        for (int fold = 0; fold < (Long ? 5 : 1); fold++)
        {
            int[] training = [.. Enumerable.Range(0, table.Count).Where(r => foldOfFamily[table.Family[r]] != fold)];
            int[] testing = [.. Enumerable.Range(0, table.Count).Where(r => foldOfFamily[table.Family[r]] == fold)];
            RenderTimeModel model = RenderTimeTrainer.Train(table.Take(training), seed: 5);
            tally.Training += watch.Elapsed;
            watch.Restart();
            Score(model, table.Take(testing), tally);
            output.WriteLine($"fold {fold}: {model.Record.Kind}");
            watch.Restart();
        }

        HeldOutMetrics metrics = Report("videos", tally);
        Assert.True(metrics.MeanPercent < 12.9, $"MAPE {metrics.MeanPercent:F2} %");
        Assert.True(metrics.MedianPercent < 9.2, $"median {metrics.MedianPercent:F2} %");
        Assert.True(tally.After[5].Average() <= 8.5, $"after 5 rows {tally.After[5].Average():F2} %");
        (double low, double high) = tally.Bootstrap();
        Assert.InRange(0.9, low, high);
        Assert.InRange(tally.Covered.Average(), 0.88, 0.92);
    }

    [SkippableFact]
    public void Train_MachinesHeldOut_FewRowsOfTheMachineHelp()
    {
        BenchmarkTable table = EncodeTimes.Machines();
        int machines = table.Families.Length;
        Tally tally = new();
        for (int machine = 0; machine < (Long ? machines : 4); machine++)
        {
            int[] training = [.. Enumerable.Range(0, table.Count).Where(r => table.Family[r] != machine)];
            int[] testing = [.. Enumerable.Range(0, table.Count).Where(r => table.Family[r] == machine)];
            CrossedDesign design = CrossedDesign.TryFrom(table.Take(training))!;
            (ProfilePredictor predictor, double[][] residuals) = ProfileTrainer.Train(design, 5, default);
            ScoreFamily(predictor.Predict([]), new FamilyErrors(residuals, 0.0005), Times(design, table.Take(testing)), machine, tally);
        }

        Report("machines", tally);
        Assert.True(tally.After[5].Average() < tally.Errors().MeanPercent);
        Assert.True(tally.After[10].Average() <= tally.After[1].Average());
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
        Assert.NotNull(parts.Profile);
        CrossedDesign design = CrossedDesign.TryFrom(unseen)!;
        double[][] encoded = parts.Profile.Scaling.Encoder.Encode(design.Families);
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

            ScoreFamily(parts.Profile.Predict(encoded[f]), parts.Errors, times, design.Families.Family[f], tally);
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
            tally.After[count].AddRange(known.Where(s => !own.Contains(s)).Select(s => 100 * Math.Abs(Math.Exp(predicted[s] + shift.At(s) - measured[s]) - 1)));
        }
    }

    private HeldOutMetrics Report(string what, Tally tally)
    {
        HeldOutMetrics metrics = tally.Errors();
        (double low, double high) = tally.Bootstrap();
        output.WriteLine($"{what}: {tally.Covered.Count} held out, training {tally.Training.TotalSeconds:F1} s");
        output.WriteLine($"MAPE {metrics.MeanPercent:F2} %, median {metrics.MedianPercent:F2} %, bias {metrics.BiasPercent:F2} %, worst 5 % beyond {metrics.Worst5Percent:F1} %");
        output.WriteLine($"90 % bands cover {100 * tally.Covered.Average():F2} % (families resampled: {100 * low:F2} to {100 * high:F2} %)");
        foreach (int count in OwnRows)
        {
            output.WriteLine($"after {count} own rows: MAPE {tally.After[count].Average():F2} %, median {Quantiles.Of([.. tally.After[count]], 0.5):F2} %");
        }

        return metrics;
    }

    private sealed class Tally
    {
        private readonly List<double> predicted = [];
        private readonly List<double> measured = [];
        private (FamilyErrors Errors, FamilyShift Shift, double Width, double[] Deviations)? last;

        public TimeSpan Training { get; set; }

        public List<double> Covered { get; } = [];

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
            Assert.Same(shift, last!.Value.Shift);
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
