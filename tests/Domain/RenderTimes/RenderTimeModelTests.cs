using System.Globalization;
using PostPipeline.Quantities.Randomness;
using PostPipeline.RenderTimes;
using PostPipeline.RenderTimes.Features;
using PostPipeline.RenderTimes.Intervals;
using PostPipeline.RenderTimes.Predictors;
using Xunit;

namespace PostPipeline.Domain.Tests.RenderTimes;

/// <summary>What a model promises, on tables made here.</summary>
public class RenderTimeModelTests
{
    [Fact]
    public void Train_SameTableAndSeed_SameModelToTheByte()
    {
        Assert.Equal(Bytes(RenderTimeTrainer.Train(SmallTable.Of(projects: 12), 4)), Bytes(RenderTimeTrainer.Train(SmallTable.Of(projects: 12), 4)));
        Assert.NotEqual(RenderTimeTrainer.ModelId("a", 4), RenderTimeTrainer.ModelId("a", 5));
    }

    // Every kind is tried on the same held-out families, and the one with the least log error is taken.
    [Fact]
    public void Train_AllKinds_AreTriedAndTheBestIsTaken()
    {
        ModelRecord record = RenderTimeTrainer.Train(SmallTable.Of(projects: 12), 1).Record;
        Assert.Contains(record.Candidates, c => c.Kind == "log-linear");
        Assert.Contains(record.Candidates, c => c.Kind == "boosted trees");
        Assert.Contains(record.Candidates, c => c.Kind == "hybrid of log-linear and boosted trees");
        Assert.Equal(record.Candidates.Min(c => c.HeldOut.LogDeviation), record.HeldOut.LogDeviation);
        Assert.Equal(record.Candidates.MinBy(c => c.HeldOut.LogDeviation)!.Kind, record.Kind);
    }

    // Trees answer with the nearest leaf beyond what was measured; the linear part goes on. Times grow in proportion to pixels
    // (log against log), with a step that only trees catch; asked at sixteen times the largest.
    [Fact]
    public void Fit_Hybrid_ExtrapolatesWhereTreesCannot()
    {
        double[][] rows = new double[400][];
        double[] response = new double[400];
        for (int i = 0; i < rows.Length; i++)
        {
            RandomStream random = new(3, RandomPurpose.General, i);
            double logPixels = 2 * random.NextUnit();
            double step = random.NextUnit();
            rows[i] = [logPixels, step];
            response[i] = logPixels + (step > 0.5 ? 0.5 : 0);
        }

        double[] weights = [.. Enumerable.Repeat(1.0, rows.Length)];
        AdditivePredictor Fit(string name) => AdditivePredictor.Fit(PredictorKind.Candidates(rows.Length).Single(k => k.Name == name), rows, response, weights, 1, default);
        double far = 2 + Math.Log(16);
        double truth = far + 0.5;
        Assert.True(Math.Abs(Fit("boosted trees").Predict([far, 0.9]) - truth) > 2);
        Assert.InRange(Fit("hybrid of log-linear and boosted trees").Predict([far, 0.9]), truth - 0.4, truth + 0.4);
        Assert.InRange(Fit("hybrid of log-linear and boosted trees").Predict([1, 0.9]), 1.4, 1.6);
        Assert.True(Math.Abs(Fit("log-linear").Predict([1, 0.9]) - 1.5) > 0.05);
    }

    // A missing value is taken only where rows that were learned from lacked it too, and then it is said.
    [Fact]
    public void TryPredict_MissingValue_IsFlaggedOrRefused()
    {
        Assert.False(RenderTimeTrainer.Train(SmallTable.Of(projects: 12), 1).TryPredict(new Dictionary<string, string> { ["coding"] = "proxy" }, 0.9, out _, out RowViolation refused));
        Assert.Equal("features[megapixels]", refused.Field);

        BenchmarkTableBuilder builder = new(new(["project", "megapixels", "grain", "seconds"], "seconds", string.Empty, "project", [], ["megapixels", "grain"]), false);
        for (int i = 0; i < 72; i++)
        {
            int megapixels = 2 + (i % 6);
            Assert.True(builder.Add([$"p{i / 6}", $"{megapixels}", i % 5 == 0 ? string.Empty : $"{i % 7}", (0.01 * megapixels * (1 + (0.05 * Math.Sin(i / 6)))).ToString(CultureInfo.InvariantCulture)]));
        }

        RenderTimeModel lacking = RenderTimeTrainer.Train(builder.Build(), 1);
        Assert.True(lacking.TryPredict(new Dictionary<string, string> { ["megapixels"] = "4" }, 0.9, out RenderTimeEstimate? estimate, out _));
        Assert.Contains("grain is missing", estimate!.Notes);
        Assert.True(lacking.TryPredict(new Dictionary<string, string> { ["megapixels"] = "4", ["grain"] = "3" }, 0.9, out estimate, out _));
        Assert.Empty(estimate!.Notes);
    }

    // Eight families cannot promise 90 %: the ends are the measured range, which every held-out family lies in.
    [Fact]
    public void TryPredict_EightFamilies_GivesTheMeasuredRangeInstead()
    {
        RenderTimeModel model = RenderTimeTrainer.Train(SmallTable.Of(projects: 8), 1);
        Dictionary<string, string> question = new() { ["coding"] = "proxy", ["megapixels"] = "8" };
        Assert.True(model.TryPredict(question, 0.9, out RenderTimeEstimate? refused, out _));
        Assert.True(refused!.IntervalRefused);
        Assert.Contains(refused.Notes, n => n.Contains("8 families are too few to promise 90 % (9 are needed)", StringComparison.Ordinal));
        double[] errors = [.. model.ToParts().Errors.Residuals.Select(r => r.Where(e => !double.IsNaN(e)).MaxBy(Math.Abs))];
        Assert.Equal(refused.SecondsPerFrame * Math.Exp(errors.Min()), refused.Low, 1e-12);
        Assert.Equal(refused.SecondsPerFrame * Math.Exp(errors.Max()), refused.High, 1e-12);
        Assert.True(model.TryPredict(question, 0.8, out RenderTimeEstimate? promised, out _));
        Assert.False(promised!.IntervalRefused);

        Assert.True(model.NewFamily.TryPredictTotal([new(question, 100)], 0.9, out RenderTimeEstimate? total, out _));
        Assert.True(total!.IntervalRefused);
    }

    // Each value inside its own range, but never together: wide pictures were always few layers, many layers small pictures.
    [Fact]
    public void Locate_CornerNobodyMeasured_IsOutsideThoughEachValueIsInside()
    {
        BenchmarkTableBuilder builder = new(new(["project", "megapixels", "layers", "seconds"], "seconds", string.Empty, "project", [], ["megapixels", "layers"]), false);
        for (int i = 0; i < 200; i++)
        {
            double size = 1 + (i % 20);
            double layers = 21 - size;
            Assert.True(builder.Add([$"p{i / 20}", size.ToString(CultureInfo.InvariantCulture), (layers + (i / 20 * 0.01)).ToString(CultureInfo.InvariantCulture), "1"]));
        }

        BenchmarkTable table = builder.Build();
        FeatureEncoder encoder = FeatureEncoder.Learn(table);
        MeasuredDomain domain = MeasuredDomain.Learn(table, encoder);
        DomainAnswer corner = domain.Locate(encoder, [19, 19], []);
        Assert.True(corner.Outside);
        Assert.True(corner.Widening > 1);
        Assert.Contains("each value lies within its range, but together", Assert.Single(corner.Notes), StringComparison.Ordinal);
        DomainAnswer along = domain.Locate(encoder, [10, 11], []);
        Assert.False(along.Outside);
        Assert.Equal(1, along.Widening);
    }

    // Refused where the trivial baseline is not beaten: the numbers say nothing about the times.
    [Fact]
    public void Train_FeaturesSayNothing_IsRefused()
    {
        BenchmarkTableBuilder builder = new(new(["project", "noise", "seconds"], "seconds", string.Empty, "project", [], ["noise"]), false);
        for (int i = 0; i < 120; i++)
        {
            RandomStream random = new(8, RandomPurpose.General, i);
            Assert.True(builder.Add([$"p{i / 10}", random.NextUnit().ToString(CultureInfo.InvariantCulture), Math.Exp(random.NextNormal()).ToString(CultureInfo.InvariantCulture)]));
        }

        TrainingRefusedException refused = Assert.Throws<TrainingRefusedException>(() => RenderTimeTrainer.Train(builder.Build(), 1));
        Assert.Contains("no better than", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Train_TwoFamilies_IsRefused() =>
        Assert.Contains("at least 3 are needed", Assert.Throws<TrainingRefusedException>(() => RenderTimeTrainer.Train(SmallTable.Of(projects: 2), 1)).Message, StringComparison.Ordinal);

    private static byte[] Bytes(RenderTimeModel model)
    {
        using MemoryStream stream = new();
        RenderTimeModelCodec.Write(model, stream);
        return stream.ToArray();
    }
}
