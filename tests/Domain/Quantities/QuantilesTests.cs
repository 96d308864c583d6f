using CsCheck;
using PostPipeline.Quantities;
using Xunit;

namespace PostPipeline.Domain.Tests.Quantities;

public sealed class QuantilesTests
{
    // Type 7 of Hyndman and Fan (1996), worked by hand: (n − 1)p = 3.6 for p = 0.9 of five values.
    [Theory]
    [InlineData(0, 1)]
    [InlineData(0.5, 3)]
    [InlineData(0.9, 8.2)]
    [InlineData(1, 11)]
    public void Of_FiveValues_IsWorkedByHand(double probability, double expected) =>
        Assert.Equal(expected, Quantiles.Of([4, 11, 2, 1, 3], probability), 1e-12);

    // Selection gives the bits that a sort gives, whatever the order, ties and infinities included.
    [Fact]
    public void Of_SeveralBySelection_EqualTheSorted() =>
        Gen.Select(Gen.OneOf(Gen.Double[-1000, 1000], Gen.Int[0, 3].Select(i => (double)i), Gen.Const(double.PositiveInfinity)).Array[1, 700], Gen.Double[0, 1].Array[1, 5]).Sample((values, probabilities) =>
        {
            double[] sorted = [.. values.Order()];
            double[] levels = [.. probabilities.Order()];
            Assert.Equal([.. levels.Select(p => Quantiles.OfSorted(sorted, p))], Quantiles.Of(values, levels));
        });

    // Orders that make a selection by pivots slow: all equal, sorted either way, a saw, an organ pipe.
    [Theory]
    [InlineData("equal")]
    [InlineData("up")]
    [InlineData("down")]
    [InlineData("saw")]
    [InlineData("pipe")]
    public void Of_AwkwardOrders_EqualTheSorted(string order)
    {
        const int N = 20_001;
        double[] values = [.. Enumerable.Range(0, N).Select(i => order switch
        {
            "up" => i,
            "down" => -i,
            "saw" => i % 7,
            "pipe" => Math.Min(i, N - i),
            _ => 5.0,
        })];
        double[] sorted = [.. values.Order()];
        Assert.Equal([.. new[] { 0.1, 0.5, 0.9 }.Select(p => Quantiles.OfSorted(sorted, p))], Quantiles.Of(values, [0.1, 0.5, 0.9]));
    }

    [Fact]
    public void Of_NotANumber_CountsAsTheSmallest() => Assert.Equal([double.NaN, 2], Quantiles.Of([3, double.NaN, 2], [0, 0.5]));

    [Fact]
    public void Of_NothingOrFallingLevels_AreRefused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => Quantiles.Of([], 0.5));
        Assert.Throws<ArgumentOutOfRangeException>(() => Quantiles.Of([1, 2], [0.5, 0.1]));
    }
}
