using System.Globalization;
using System.Text.RegularExpressions;
using PostPipeline.RenderTimes.Regression;
using PostPipeline.Testing;

namespace PostPipeline.Domain.Tests.RenderTimes;

/// <summary>NIST Statistical Reference Datasets, linear regression: the files, our fit of them, and the digits that agree.</summary>
internal static class NistReference
{
    public static (LeastSquaresFit Fit, NistFile File) Fit(string name, int degree)
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
    public static double Digits(IReadOnlyList<double> ours, IReadOnlyList<double> certified) =>
        ours.Zip(certified, (o, c) =>
        {
            double error = c == 0 ? Math.Abs(o) : Math.Abs((o - c) / c);
            return error == 0 ? 15 : Math.Min(15, -Math.Log10(error));
        }).Min();

    internal sealed record NistFile(double[] Coefficients, double[] Deviations, double[][] Rows)
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
