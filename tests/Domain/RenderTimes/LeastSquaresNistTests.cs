using System.Globalization;
using System.Text.RegularExpressions;
using PostPipeline.RenderTimes.Regression;
using PostPipeline.Testing;
using Xunit;
using Xunit.Abstractions;

namespace PostPipeline.Domain.Tests.RenderTimes;

/// <summary>
/// Published values: NIST Statistical Reference Datasets, linear regression, certified values. The digits that
/// R 4.2.2 lm reaches on the same files stand beside ours in docs/validation.md.
/// </summary>
public class LeastSquaresNistTests(ITestOutputHelper output)
{
    // Digits required per file: 13, and 11 where NIST itself grades the problem as one of large residuals.
    [SkippableTheory]
    [InlineData("Norris", 1, 13)]
    [InlineData("Pontius", 2, 13)]
    [InlineData("NoInt1", 1, 13)]
    [InlineData("NoInt2", 1, 13)]
    [InlineData("Longley", 0, 13)]
    [InlineData("Wampler1", 5, 13)]
    [InlineData("Wampler2", 5, 13)]
    [InlineData("Wampler3", 5, 13)]
    [InlineData("Wampler4", 5, 11)]
    [InlineData("Wampler5", 5, 11)]
    public void Fit_NistReferenceData_ReachesCertifiedDigits(string name, int degree, double required)
    {
        (LeastSquaresFit fit, NistFile file) = Fit(name, degree);
        double digits = Digits(fit.Coefficients, file.Coefficients);
        double errors = Digits(fit.StandardErrors, file.Deviations);
        output.WriteLine($"{name}: {digits:F1} digits in the coefficients, {errors:F1} in their standard errors");
        Assert.True(digits >= required, $"{name}: {digits:F2} digits, required {required}");
    }

    [SkippableFact]
    public void Fit_Filip_IsReported()
    {
        // NIST grades Filip as the hardest: degree 10 on a narrow range, where rounding the powers of x to
        // doubles already costs digits. No number is promised; half of them must be right.
        (LeastSquaresFit fit, NistFile file) = Fit("Filip", 10);
        double digits = Digits(fit.Coefficients, file.Coefficients);
        output.WriteLine($"Filip: {digits:F1} digits");
        Assert.True(digits >= 7, $"Filip: {digits:F2} digits");
    }

    private static (LeastSquaresFit Fit, NistFile File) Fit(string name, int degree)
    {
        NistFile file = NistFile.Read(Outside.Data($"nist_strd/{name}.dat"));
        List<double[]> columns = degree == 0
            ? [.. Enumerable.Range(1, file.Rows[0].Length - 1).Select(j => file.Rows.Select(r => r[j]).ToArray())]
            : [.. Enumerable.Range(1, degree).Select(power => file.Rows.Select(r => Power(r[1], power)).ToArray())];
        bool intercept = !name.StartsWith("NoInt", StringComparison.Ordinal);
        return (LeastSquares.Fit(columns, [.. file.Rows.Select(r => r[0])], intercept), file);
    }

    private static double Power(double x, int power)
    {
        double product = x;
        for (int i = 1; i < power; i++)
        {
            product *= x;
        }

        return product;
    }

    // The least number of correct digits over the values: −log₁₀ of the relative error, or of the absolute one
    // where the certified value is zero; 15 is the most that a certified value can show.
    private static double Digits(IReadOnlyList<double> ours, IReadOnlyList<double> certified) =>
        ours.Zip(certified, (o, c) =>
        {
            double error = c == 0 ? Math.Abs(o) : Math.Abs((o - c) / c);
            return error == 0 ? 15 : Math.Min(15, -Math.Log10(error));
        }).Min();

    private sealed record NistFile(double[] Coefficients, double[] Deviations, double[][] Rows)
    {
        public static NistFile Read(string path)
        {
            string[] lines = File.ReadAllLines(path);
            double[][] parameters = [.. lines
                .Select(l => Regex.Match(l, @"^\s+B\d+\s+(\S+)\s+(\S+)\s*$"))
                .Where(m => m.Success)
                .Select(m => new[] { Parse(m.Groups[1].Value), Parse(m.Groups[2].Value) })];
            int start = Array.FindLastIndex(lines, l => l.StartsWith("Data:", StringComparison.Ordinal)) + 1;
            double[][] rows = [.. lines.Skip(start).Where(l => l.Trim().Length > 0)
                .Select(l => l.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(Parse).ToArray())];
            return new([.. parameters.Select(p => p[0])], [.. parameters.Select(p => p[1])], rows);
        }

        private static double Parse(string text) => double.Parse(text, NumberStyles.Float, CultureInfo.InvariantCulture);
    }
}
