using PostPipeline.Studies.Printing;
using Xunit;

namespace PostPipeline.Studies.Tests.Printing;

public sealed class NumbersTests
{
    [Theory]
    [InlineData(0, "0")]
    [InlineData(10.04, "10")]
    [InlineData(10.96, "11")]
    [InlineData(1.2349, "1.23")]
    [InlineData(99.96, "100")]
    [InlineData(999.6, "1,000")]
    [InlineData(0.012345, "0.0123")]
    [InlineData(1234567, "1,230,000")]
    [InlineData(0.0001234, "1.23e−4")]
    [InlineData(1e6, "1,000,000")]
    [InlineData(106.168, "106")]
    [InlineData(double.NaN, "unknown")]
    [InlineData(double.PositiveInfinity, "without limit")]
    [InlineData(-71.66, "−71.7")]
    public void Three_Estimate_HasAtMostThreeDigits(double value, string expected) =>
        Assert.Equal(expected, Numbers.Three(value));

    [Theory]
    [InlineData(0, "<1 %")]
    [InlineData(0.004, "<1 %")]
    [InlineData(0.006, "<1 %")]
    [InlineData(0.01, "1 %")]
    [InlineData(0.9, "90 %")]
    [InlineData(0.99, "99 %")]
    [InlineData(0.992, ">99 %")]
    [InlineData(0.997, ">99 %")]
    [InlineData(1, ">99 %")]
    public void Percent_Probability_IsNeverNoneOrAll(double share, string expected) => Assert.Equal(expected, Numbers.Percent(share));

    [Fact]
    public void Exact_Bytes_KeepAllDigits() => Assert.Equal("71,663,616,000,000", Numbers.Exact(71_663_616_000_000));

    [Fact]
    public void Money_InventedPrice_SaysSoOnItsLine() => Assert.Equal("1.23 EUR (invented prices)", Numbers.Money(1.234, "EUR", true));

    [Fact]
    public void Clock_PastMidnight_SaysTheNextDay()
    {
        Assert.Equal("22:16", Numbers.Clock((22 * 3600) + (15 * 60) + 1));
        Assert.Equal("01:30 (+1 d)", Numbers.Clock(25.5 * 3600));
    }
}
