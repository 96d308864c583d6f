using CsCheck;
using PostPipeline.Studies.Inputs;
using Xunit;

namespace PostPipeline.Studies.Tests.Inputs;

public sealed class PertBetaTests
{
    [Fact]
    public void FromPercentiles_AnyThreeNumbers_AreModeP10AndP90() =>
        Gen.Select(Gen.Double[-100, 100], Gen.Double[0.001, 50], Gen.Double[0, 1]).Sample((low, width, place) =>
        {
            double likely = low + (place * width);
            PertBeta beta = PertBeta.FromPercentiles(low, likely, low + width);
            Assert.Equal(likely, beta.Mode, 1e-9 * (1 + width));
            Assert.Equal(low, beta.Quantile(0.1), 1e-7 * (1 + width));
            Assert.Equal(low + width, beta.Quantile(0.9), 1e-7 * (1 + width));
        }, iter: 60);

    [Fact]
    public void FromPercentiles_ModeOutside_IsRefused() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => PertBeta.FromPercentiles(1, 5, 3));
}
