using PostPipeline.Quantities;
using PostPipeline.Quantities.Randomness;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Inputs;
using Xunit;

namespace PostPipeline.Studies.Tests.Inputs;

public sealed class DrawSetTests
{
    private static Estimate Input(string key, string factor = "", double weight = 1) =>
        new(key, 1, 2, 5, 0, 100, "h", Known.Guessed, Factor: factor, Weight: weight);

    private static double[] Column(DrawSet set, int input) => [.. Enumerable.Range(0, set.Count).Select(d => set.Row(d)[input])];

    [Fact]
    public void Sample_Input_HasItsPercentiles()
    {
        InputTable table = new();
        table.Add(Input("a"));
        double[] draws = Column(DrawSet.Sample(table, 20_000, 3), 0);

        // The error of a sample quantile at 20,000 draws is about 0.02 here; five times that.
        Assert.Equal(1, Quantiles.Of(draws, 0.1), 0.05);
        Assert.Equal(5, Quantiles.Of(draws, 0.9), 0.15);
    }

    [Fact]
    public void Sample_SharedFactor_MovesInputsAsOne()
    {
        InputTable table = new();
        table.Add(Input("a", "pace"));
        table.Add(Input("b", "pace"));
        table.Add(Input("c"));
        DrawSet set = DrawSet.Sample(table, 500, 3);
        Assert.Equal(Column(set, 0), Column(set, 1));
        Assert.NotEqual(Column(set, 0), Column(set, 2));
    }

    // A Gaussian copula of weight w has the correlation w² between the normal scores of two inputs; Spearman's rank
    // correlation is then (6/π)·asin(w²/2) (Pearson 1907).
    [Fact]
    public void Sample_WeightedFactor_HasItsRankCorrelation()
    {
        InputTable table = new();
        table.Add(Input("a", "pace", 0.8));
        table.Add(Input("b", "pace", 0.8));
        DrawSet set = DrawSet.Sample(table, 20_000, 3);
        double expected = 6 / Math.PI * Math.Asin(0.64 / 2);
        Assert.Equal(expected, Rank(Column(set, 0), Column(set, 1)), 0.02);
    }

    [Fact]
    public void Sample_AnotherInputAdded_LeavesTheOthers()
    {
        InputTable one = new();
        one.Add(Input("a"));
        InputTable two = new();
        two.Add(Input("z"));
        two.Add(Input("a"));
        Assert.Equal(Column(DrawSet.Sample(one, 100, 3), 0), Column(DrawSet.Sample(two, 100, 3), 1));
    }

    [Fact]
    public void Sample_HardBounds_AreKept()
    {
        InputTable table = new();
        table.Add(Input("a") with { Minimum = 0.9, Maximum = 5.2 });
        Assert.All(Column(DrawSet.Sample(table, 5000, 3), 0), v => Assert.InRange(v, 0.9, 5.2));
    }

    [Fact]
    public void PlaceOf_Misspelt_NamesTheNearest()
    {
        InputTable table = new();
        table.Add(Input("finish.grade"));
        Assert.Contains("did you mean 'finish.grade'?", Assert.Throws<ArgumentException>(() => table.PlaceOf("finish.grad")).Message, StringComparison.Ordinal);
    }

    private static double Rank(double[] a, double[] b)
    {
        static double[] Ranks(double[] values)
        {
            int[] order = [.. Enumerable.Range(0, values.Length).OrderBy(i => values[i])];
            double[] ranks = new double[values.Length];
            for (int i = 0; i < order.Length; i++)
            {
                ranks[order[i]] = i;
            }

            return ranks;
        }

        (double[] x, double[] y) = (Ranks(a), Ranks(b));
        double mean = (a.Length - 1) / 2.0;
        return x.Zip(y).Sum(p => (p.First - mean) * (p.Second - mean)) / x.Sum(v => (v - mean) * (v - mean));
    }
}
