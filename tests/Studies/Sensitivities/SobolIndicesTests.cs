using System.Globalization;
using PostPipeline.Studies.Sensitivities;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Studies.Tests.Sensitivities;

/// <summary>
/// stats/sensitivity_checks.csv: closed forms of Ishigami (Ishigami and Homma 1990) and of the g-function (Saltelli and
/// Sobol'). Every row lies in a simultaneous 99.9 % interval (Bonferroni over the table) whose half-width is at most 2 % of
/// the output's variance; the seed was fixed before looking.
/// </summary>
public sealed class SobolIndicesTests
{
    private const long Seed = 20_260_301;

    private static readonly CsvTable Table = CsvTable.Read(Outside.Table("stats/sensitivity_checks.csv"));

    public static TheoryData<string, string> Functions()
    {
        TheoryData<string, string> functions = [];
        foreach ((string function, string parameters) in Table.Rows.Select(r => (r["function"], r["params"])).Distinct())
        {
            functions.Add(function, parameters);
        }

        return functions;
    }

    [Theory]
    [MemberData(nameof(Functions))]
    public void Estimate_ClosedForm_LiesInEveryInterval(string function, string parameters)
    {
        CsvTable.Row[] rows = [.. Table.Rows.Where(r => r["function"] == function && r["params"] == parameters && Index(r["index"]) is not null)];
        int tabled = Table.Rows.Count(r => Index(r["index"]) is not null);
        int dimensions = rows.Max(r => Index(r["index"])!.Value.Input);
        Func<double[], double> f = Function(function, parameters);
        IReadOnlyList<SobolIndex> indices = SobolIndices.Estimate(
            dimensions,
            [.. Enumerable.Range(0, dimensions).Select(i => ($"x{i + 1}", (IReadOnlyList<int>)[i]))],
            points => [.. points.Select(f)],
            4096,
            16,
            Seed,
            1 - (0.001 / tabled));
        foreach (CsvTable.Row row in rows)
        {
            (bool total, int input) = Index(row["index"])!.Value;
            SobolIndex index = indices[input - 1];
            double expected = double.Parse(row["value"], CultureInfo.InvariantCulture);
            (double value, double half) = total ? (index.Total, index.TotalHalfWidth) : (index.First, index.FirstHalfWidth);
            Assert.True(half <= 0.02, $"{row["index"]}: half-width {half}");
            Assert.True(Math.Abs(value - expected) <= Math.Max(half, 1e-6), $"{row["index"]}: {value} ± {half}, closed form {expected}");
        }
    }

    private static (bool Total, int Input)? Index(string name)
    {
        bool total = name.StartsWith("ST", StringComparison.Ordinal);
        string digits = name[(total ? 2 : 1)..];
        return name.StartsWith('S') && digits.Length == 1 && char.IsDigit(digits[0]) ? (total, digits[0] - '0') : null;
    }

    private static Func<double[], double> Function(string name, string parameters)
    {
        Dictionary<string, string> values = parameters.Split(';').Select(p => p.Split('=', 2)).Where(p => p.Length == 2).ToDictionary(p => p[0], p => p[1]);
        if (name == "Ishigami")
        {
            double a = double.Parse(values["a"], CultureInfo.InvariantCulture);
            double b = double.Parse(values["b"], CultureInfo.InvariantCulture);
            return u =>
            {
                double X(int i) => Math.PI * ((2 * u[i]) - 1);
                return Math.Sin(X(0)) + (a * Math.Pow(Math.Sin(X(1)), 2)) + (b * Math.Pow(X(2), 4) * Math.Sin(X(0)));
            };
        }

        double[] weights = [.. values["a"].Trim('[', ']', '(', ')').Split([',', ' '], StringSplitOptions.RemoveEmptyEntries).Select(w => double.Parse(w, CultureInfo.InvariantCulture))];
        return u => weights.Select((w, i) => (Math.Abs((4 * u[i]) - 2) + w) / (1 + w)).Aggregate(1.0, (p, q) => p * q);
    }

    [Fact]
    public void Points_EveryCoordinate_IsStratified()
    {
        // The first 2^k points of a Sobol' coordinate fall one into each of 2^k equal intervals, scrambled or not (Sobol' 1967).
        const int Dimensions = 120;
        SobolPoints points = new(Dimensions, Seed, 3);
        int[][] counts = [.. Enumerable.Range(0, Dimensions).Select(_ => new int[256])];
        double[] point = new double[Dimensions];
        for (int i = 0; i < 256; i++)
        {
            points.Next(point);
            for (int d = 0; d < Dimensions; d++)
            {
                counts[d][(int)(point[d] * 256)]++;
            }
        }

        Assert.All(counts, c => Assert.All(c, n => Assert.Equal(1, n)));
    }
}
