using System.Globalization;
using CsCheck;
using PostPipeline.Studies.Inputs;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Studies.Tests.Inputs;

public sealed class PertBetaTests
{
    // stats/quantile_checks.csv: SciPy 1.10.1, checked in R 4.2.2.
    public static TheoryData<double, double, double, string, double> Published()
    {
        TheoryData<double, double, double, string, double> rows = [];
        foreach (CsvTable.Row row in CsvTable.Read(Outside.Table("stats/quantile_checks.csv")).Rows.Where(r => r["distribution"].StartsWith("PERT", StringComparison.Ordinal)))
        {
            Dictionary<string, double> values = row["params"].Split(';').Select(p => p.Split('=')).ToDictionary(p => p[0], p => double.Parse(p[1], CultureInfo.InvariantCulture));
            rows.Add(values["min"], values["mode"], values["max"], row["measure"], double.Parse(row["value"], CultureInfo.InvariantCulture));
        }

        return rows;
    }

    [Theory]
    [MemberData(nameof(Published))]
    public void FromBounds_EveryMeasure_EqualsPublished(double min, double mode, double max, string measure, double expected)
    {
        PertBeta beta = PertBeta.FromBounds(min, mode, max);
        double value = measure switch
        {
            "mean" => beta.Mean,
            "sd" => beta.StandardDeviation,
            "cdf(P50)" => beta.Cumulative(beta.Quantile(0.5)),
            _ => beta.Quantile(double.Parse(measure[1..], CultureInfo.InvariantCulture) / 100),
        };

        // The table gives twelve significant digits.
        Assert.Equal(expected, value, 1e-10 * Math.Max(1, expected));
    }

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
