using System.Globalization;
using System.Text.RegularExpressions;
using PostPipeline.Studies.Sensitivities;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Studies.Tests.Sensitivities;

/// <summary>
/// stats/sensitivity_checks.csv: closed forms of Ishigami (Ishigami and Homma 1990) and of the g-function (Saltelli and
/// Sobol'). Every row lies in a simultaneous 99.9 % interval (Bonferroni over the table) whose half-width is at most 2 % of
/// the output's variance; the seed was fixed before looking.
/// </summary>
public sealed partial class SobolIndicesTests
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
        CsvTable.Row[] rows = [.. Table.Rows.Where(r => r["function"] == function && r["params"] == parameters)];
        int dimensions = rows.Max(r => r["index"].Where(char.IsDigit).Select(c => c - '0').DefaultIfEmpty(1).Max());
        (int A, int B)[] pairs = [.. rows.Where(r => Pair().IsMatch(r["index"])).Select(r => (r["index"][1] - '1', r["index"][2] - '1'))];
        Func<double[], double> f = Function(function, parameters);
        SobolEstimate estimate = SobolIndices.Estimate(
            dimensions,
            [
                .. Enumerable.Range(0, dimensions).Select(i => ($"x{i + 1}", (IReadOnlyList<int>)[i])),
                .. pairs.Select(p => ($"x{p.A + 1} and x{p.B + 1}", (IReadOnlyList<int>)[p.A, p.B])),
            ],
            points => [.. points.Select(f)],
            4096,
            16,
            Seed,
            1 - (0.001 / Table.Rows.Count));
        foreach (CsvTable.Row row in rows)
        {
            double expected = double.Parse(row["value"], CultureInfo.InvariantCulture);
            (double value, double half, double scale) = Ours(row["index"], estimate, dimensions, pairs);
            Assert.True(half <= 0.02 * scale, $"{row["index"]}: half-width {half}");
            Assert.True(Math.Abs(value - expected) <= Math.Max(half, 1e-6), $"{row["index"]}: {value} ± {half}, closed form {expected}");
        }
    }

    // A row that is none of these fails; an index is a share of the variance, so its scale is 1.
    private static (double Value, double Half, double Scale) Ours(string name, SobolEstimate estimate, int dimensions, (int A, int B)[] pairs)
    {
        SobolIndex At(char digit) => estimate.Indices[digit - '1'];
        if (Pair().IsMatch(name))
        {
            // What two inputs do together beyond what each does alone; the three intervals are added up.
            SobolIndex both = estimate.Indices[dimensions + Array.IndexOf(pairs, (name[1] - '1', name[2] - '1'))];
            return (both.First - At(name[1]).First - At(name[2]).First, both.FirstHalfWidth + At(name[1]).FirstHalfWidth + At(name[2]).FirstHalfWidth, 1);
        }

        return name switch
        {
            "mean" => (estimate.Mean, estimate.MeanHalfWidth, estimate.Mean),
            "Var" => (estimate.Variance, estimate.VarianceHalfWidth, estimate.Variance),
            ['S', 'T', char digit] when char.IsDigit(digit) => (At(digit).Total, At(digit).TotalHalfWidth, 1),
            ['S', char digit] when char.IsDigit(digit) => (At(digit).First, At(digit).FirstHalfWidth, 1),
            _ => throw new InvalidOperationException($"the row '{name}' is not known"),
        };
    }

    [Fact]
    public void Table_EveryRow_BelongsToAFunctionThatIsEstimated()
    {
        Assert.Equal(Table.Rows.Count, Functions().Sum(f => Table.Rows.Count(r => r["function"] == (string)f[0] && r["params"] == (string)f[1])));
        Assert.True(Table.Rows.Count >= 31);
        Assert.Contains(Table.Rows, r => r["index"] == "S13");
        Assert.Contains(Table.Rows, r => r["index"] == "mean");
        Assert.Contains(Table.Rows, r => r["index"] == "Var");
    }

    [GeneratedRegex("^S[0-9][0-9]$")]
    private static partial Regex Pair();

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
