using PostPipeline.Quantities.Randomness;
using Xunit;

namespace PostPipeline.Domain.Tests.Quantities;

public class NormalTailTests
{
    // Upper tails as tabled by Abramowitz and Stegun, Handbook of Mathematical Functions, tables 26.1 and 26.2 (values from memory).
    [Theory]
    [InlineData(0, 0.5)]
    [InlineData(1, 0.158655253931457)]
    [InlineData(1.959963984540054, 0.025)]
    [InlineData(3, 1.349898031630095e-3)]
    [InlineData(6, 9.865876450377e-10)]
    [InlineData(-2, 0.977249868051821)]
    public void UpperTail_TabledValue_AgreesToTwelveDigits(double value, double tail) =>
        Assert.Equal(1, NormalDistribution.UpperTail(value) / tail, 1e-11);

    [Theory]
    [InlineData(1e-9)]
    [InlineData(0.01)]
    [InlineData(0.3)]
    [InlineData(0.999)]
    public void Cumulative_OfAQuantile_IsItsProbability(double probability) =>
        Assert.Equal(1, NormalDistribution.Cumulative(NormalDistribution.Quantile(probability)) / probability, 1e-11);
}
