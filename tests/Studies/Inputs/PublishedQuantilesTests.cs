using System.Globalization;
using MathNet.Numerics.Distributions;
using PostPipeline.Quantities;
using PostPipeline.Quantities.Randomness;
using PostPipeline.Studies.Inputs;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Studies.Tests.Inputs;

/// <summary>
/// stats/quantile_checks.csv: means, standard deviations and quantiles from SciPy 1.10.1, checked in R 4.2.2. Every row is
/// read: one of a distribution or a measure that is not known here fails. What the program has in closed form is compared
/// to the table's digits; and every row is compared with the program's type-7 quantiles of 200,000 values that lie
/// evenly in probability, the distributions that the program does not draw from being those of MathNet.
/// </summary>
public sealed class PublishedQuantilesTests
{
    private const int Values = 200_000;
    private static readonly IReadOnlyList<CsvTable.Row> Table = CsvTable.Read(Outside.Table("stats/quantile_checks.csv")).Rows;

    public static TheoryData<string, string> Distributions()
    {
        TheoryData<string, string> distributions = [];
        foreach ((string name, string parameters) in Table.Select(r => (r["distribution"], r["params"])).Distinct())
        {
            distributions.Add(name, parameters);
        }

        return distributions;
    }

    [Fact]
    public void Table_EveryRow_BelongsToADistributionThatIsCompared()
    {
        int compared = Distributions().Sum(d => Rows((string)d[0], (string)d[1]).Length);
        Assert.Equal(Table.Count, compared);
        Assert.True(compared >= 100);
    }

    [Theory]
    [MemberData(nameof(Distributions))]
    public void Distribution_EveryMeasure_EqualsPublished(string name, string parameters)
    {
        Func<double, double> quantile = Quantile(name, Parameters(name, parameters));
        double[] values = [.. Enumerable.Range(0, Values).Select(i => quantile((i + 0.5) / Values))];
        double mean = values.Average();
        double median = Quantiles.Of(values, 0.5);
        double deviation = Math.Sqrt(values.Average(v => (v - mean) * (v - mean)));
        foreach (CsvTable.Row row in Rows(name, parameters))
        {
            double expected = double.Parse(row["value"], CultureInfo.InvariantCulture);
            double value = row["measure"] switch
            {
                "mean" => mean,
                "sd" => deviation,
                "cdf(P50)" => values.Count(v => v <= median) / (double)Values,
                string level when Level(level) is { } p => Quantiles.Of(values, p),
                string other => throw new InvalidOperationException($"the measure '{other}' is not known"),
            };

            // Even steps leave out the outer half step of a tail, less than 0.1 % of the deviation of the longest one here.
            Assert.Equal(expected, value, Math.Max(1e-3, Math.Abs(expected) * 1e-3));
        }
    }

    // The closed forms that the program draws from, to twelve significant digits as the table has them.
    [Theory]
    [MemberData(nameof(Distributions))]
    public void ClosedForm_EveryMeasure_EqualsPublishedToTheLastDigit(string name, string parameters)
    {
        Dictionary<string, double> values = Parameters(name, parameters);
        foreach (CsvTable.Row row in Rows(name, parameters))
        {
            double? value = name switch
            {
                "PERT-beta lambda=4" => OfPert(PertBeta.FromBounds(values["min"], values["mode"], values["max"]), row["measure"]),
                "normal" when Level(row["measure"]) is { } p => NormalDistribution.Quantile(p),
                "normal" => row["measure"] == "cdf(P50)" ? NormalDistribution.Cumulative(0) : null,
                "lognormal" when Level(row["measure"]) is { } p => Math.Exp(values["meanlog"] + (values["sdlog"] * NormalDistribution.Quantile(p))),
                "lognormal from P50,P90" when Level(row["measure"]) is { } p =>
                    values["P50"] * Math.Exp(Math.Log(values["P90"] / values["P50"]) / NormalDistribution.Quantile(0.9) * NormalDistribution.Quantile(p)),
                _ => null,
            };
            if (value is { } ours)
            {
                // Where the parameters themselves are printed to ten digits, the tenth is what can be asked for.
                Assert.Equal(double.Parse(row["value"], CultureInfo.InvariantCulture), ours, (parameters.Contains("meanlog=2.302585093", StringComparison.Ordinal) ? 1e-8 : 1e-10) * Math.Max(1, Math.Abs(ours)));
            }
        }
    }

    private static CsvTable.Row[] Rows(string name, string parameters) => [.. Table.Where(r => r["distribution"] == name && r["params"] == parameters)];

    private static double OfPert(PertBeta beta, string measure) => measure switch
    {
        "mean" => beta.Mean,
        "sd" => beta.StandardDeviation,
        "cdf(P50)" => beta.Cumulative(beta.Quantile(0.5)),
        _ => beta.Quantile(Level(measure)!.Value),
    };

    private static double? Level(string measure) =>
        measure[0] == 'P' && double.TryParse(measure[1..], NumberStyles.None, CultureInfo.InvariantCulture, out double percent) ? percent / 100 : null;

    private static Dictionary<string, double> Parameters(string name, string text) => name == "normal"
        ? text.Split(',').Zip(["mean", "sd"]).ToDictionary(p => p.Second, p => double.Parse(p.First, CultureInfo.InvariantCulture))
        : text.Split(';').Select(p => p.Split('=')).ToDictionary(p => p[0], p => double.Parse(p[1], CultureInfo.InvariantCulture));

    private static Func<double, double> Quantile(string name, Dictionary<string, double> p)
    {
        switch (name)
        {
            case "PERT-beta lambda=4":
                PertBeta beta = PertBeta.FromBounds(p["min"], p["mode"], p["max"]);
                Assert.Equal((p["alpha"], p["beta"]), (Math.Round(beta.Alpha, 5), Math.Round(beta.Beta, 5)));

                // Newton's steps for every value would be slow; a table of two thousand is close enough for a thousandth.
                double[] table = [.. Enumerable.Range(0, 2001).Select(i => beta.Quantile((1 - Math.Cos(Math.PI * i / 2000)) / 2))];
                return u =>
                {
                    double place = Math.Acos(1 - (2 * u)) / Math.PI * 2000;
                    int cell = Math.Min((int)place, 1999);
                    return table[cell] + ((place - cell) * (table[cell + 1] - table[cell]));
                };
            case "triangular":
                return new Triangular(p["min"], p["max"], p["mode"]).InverseCumulativeDistribution;
            case "lognormal" or "lognormal from P50,P90":
                return u => Math.Exp(p["meanlog"] + (p["sdlog"] * NormalDistribution.Quantile(u)));
            case "gamma":
                double[] steps = [.. Enumerable.Range(0, 4001).Select(i => Gamma.InvCDF(p["shape"], 1 / p["scale"], Math.Clamp((1 - Math.Cos(Math.PI * i / 4000)) / 2, 1e-12, 1 - 1e-12)))];
                return u =>
                {
                    double place = Math.Acos(1 - (2 * u)) / Math.PI * 4000;
                    int cell = Math.Min((int)place, 3999);
                    return steps[cell] + ((place - cell) * (steps[cell + 1] - steps[cell]));
                };
            case "weibull":
                return u => p["scale"] * Math.Pow(-Math.Log(1 - u), 1 / p["shape"]);
            case "normal":
                return u => p["mean"] + (p["sd"] * NormalDistribution.Quantile(u));
            case "exponential":
                return u => -Math.Log(1 - u) / p["rate"];
            default:
                throw new InvalidOperationException($"the distribution '{name}' is not known");
        }
    }
}
