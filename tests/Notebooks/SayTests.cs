using PostPipeline.Notebooks.Charts;
using Xunit;

namespace PostPipeline.Notebooks.Tests;

/// <summary>How a notebook prints estimates: as the command line and the printed pages do, from one place.</summary>
public sealed class SayTests
{
    [Theory]
    [InlineData(0, "0")]
    [InlineData(1, "1")]
    [InlineData(999.4, "999")]
    [InlineData(1234.5, "1,230")]
    [InlineData(106.168, "106")]
    [InlineData(12.345, "12.3")]
    [InlineData(0.012345, "0.0123")]
    [InlineData(-7.889, "−7.89")]
    [InlineData(1e6, "1,000,000")]
    [InlineData(0.0001234, "1.23e−4")]
    [InlineData(double.NaN, "unknown")]
    [InlineData(double.PositiveInfinity, "without limit")]
    public void Number_IsPrintedAsEverywhere(double value, string expected) => Assert.Equal((expected, expected), (Say.Number(value), PostPipeline.Studies.Printing.Numbers.Three(value)));

    [Theory]
    [InlineData(0, "<1 %")]
    [InlineData(0.0099, "<1 %")]
    [InlineData(0.5, "50 %")]
    [InlineData(0.99, "99 %")]
    [InlineData(1, ">99 %")]
    public void Probability_IsNeverCertainAnywhere(double value, string expected) => Assert.Equal((expected, expected), (Say.Probability(value), PostPipeline.Studies.Printing.Numbers.Percent(value)));
}
