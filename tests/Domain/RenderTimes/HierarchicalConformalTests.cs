using System.Globalization;
using PostPipeline.Quantities;
using PostPipeline.Quantities.Randomness;
using PostPipeline.RenderTimes.Intervals;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Domain.Tests.RenderTimes;

public class HierarchicalConformalTests
{
    private static readonly IReadOnlyList<CsvTable.Row> Checks = CsvTable.Read(Outside.Table("stats/conformal_checks.csv")).Rows;

    // Source: tests/Tables/stats/conformal_checks.csv, split-conformal rank k = ⌈(n+1)(1−α)⌉; k > n has no finite interval.
    [Fact]
    public void HalfWidth_OneScoreAFamily_IsTheTabledRank()
    {
        foreach (CsvTable.Row row in Checks)
        {
            int n = int.Parse(row["n_calibration"], CultureInfo.InvariantCulture);
            double coverage = 1 - double.Parse(row["alpha"], CultureInfo.InvariantCulture);
            int rank = int.Parse(row["rank_k"], CultureInfo.InvariantCulture);
            double? width = HierarchicalConformal.HalfWidth([.. Enumerable.Range(1, n).Select(i => new double[] { i })], coverage);
            Assert.Equal(rank > n ? null : rank, width);
        }
    }

    // Source: the same table: the coverage given the calibration set is Beta(k, n+1−k), so its mean is k/(n+1) and its
    // 5 % and 95 % points are tabled. Simulated with 1,000 calibration sets, 4,000 in the long tier; four standard errors of each statistic.
    [Fact]
    public void HalfWidth_SimulatedCalibrationSets_CoverAsTabled()
    {
        int sets = Environment.GetEnvironmentVariable("POSTPIPELINE_LONG") == "1" ? 4_000 : 1_000;
        foreach (IGrouping<string, CsvTable.Row> group in Checks.GroupBy(r => r["n_calibration"]))
        {
            int n = int.Parse(group.Key, CultureInfo.InvariantCulture);
            CsvTable.Row[] rows = [.. group.Where(r => r["beta_a"].Length > 0)];
            double[] coverages = [.. rows.Select(r => 1 - double.Parse(r["alpha"], CultureInfo.InvariantCulture))];
            double[][] covered = [.. rows.Select(_ => new double[sets])];
            for (int set = 0; set < sets; set++)
            {
                RandomStream random = new(2_718, RandomPurpose.General, set, n);
                double[][] scores = new double[n][];
                for (int i = 0; i < n; i++)
                {
                    scores[i] = [random.NextUnit()];
                }

                for (int r = 0; r < rows.Length; r++)
                {
                    // A uniform score below the width with probability equal to the width: the coverage of this set.
                    covered[r][set] = HierarchicalConformal.HalfWidth(scores, coverages[r])!.Value;
                }
            }

            for (int r = 0; r < rows.Length; r++)
            {
                double a = double.Parse(rows[r]["beta_a"], CultureInfo.InvariantCulture);
                double b = double.Parse(rows[r]["beta_b"], CultureInfo.InvariantCulture);
                double deviation = Math.Sqrt(a * b / ((a + b) * (a + b) * (a + b + 1)));
                double mean = double.Parse(rows[r]["expected_coverage_k_over_n_plus_1"], CultureInfo.InvariantCulture);
                Assert.InRange(covered[r].Average(), mean - (4 * deviation / Math.Sqrt(sets)), mean + (4 * deviation / Math.Sqrt(sets)));

                // The standard error of a 5 % point is √(0.05·0.95/N) ÷ density, about 2.1 deviations ÷ √N where the density is
                // normal; half as much again for the longer tail of a beta density.
                double tail = 4 * 2.1 * 1.5 * deviation / Math.Sqrt(sets);
                Assert.InRange(Quantiles.Of(covered[r], 0.05) - double.Parse(rows[r]["coverage_P5"], CultureInfo.InvariantCulture), -tail, tail);
                Assert.InRange(Quantiles.Of(covered[r], 0.95) - double.Parse(rows[r]["coverage_P95"], CultureInfo.InvariantCulture), -tail, tail);
            }
        }
    }

    // Worked example of the trade (conformal, α = 0.1): n = 39 → the 36th residual; n = 8 → refuse. Common practice, no source.
    [Fact]
    public void HalfWidth_39Families_IsThe36thAnd8FamiliesAreRefused()
    {
        Assert.Equal(36, HierarchicalConformal.HalfWidth([.. Enumerable.Range(1, 39).Select(i => new double[] { i })], 0.9));
        Assert.Null(HierarchicalConformal.HalfWidth([.. Enumerable.Range(1, 8).Select(i => new double[] { i })], 0.9));
        Assert.Equal(9, HierarchicalConformal.FewestFamilies(0.9));
        Assert.Equal(4, HierarchicalConformal.FewestFamilies(0.8));
    }

    // Derived: families share an effect; a promise for a row of a new family must hold over families, not over rows.
    // Theorem of hierarchical conformal prediction: coverage between 0.9 and 0.9 + 1/(n+1).
    [Fact]
    public void HalfWidth_RowsShareAFamilyEffect_CoversRowsOfNewFamilies()
    {
        const int Families = 24;
        const int Rows = 15;
        const int Trials = 3_000;
        double covered = 0;
        double squares = 0;
        for (int trial = 0; trial < Trials; trial++)
        {
            RandomStream random = new(31, RandomPurpose.General, trial);
            double[][] all = new double[Families + 1][];
            for (int f = 0; f <= Families; f++)
            {
                double shared = random.NextNormal();
                all[f] = new double[Rows];
                for (int i = 0; i < Rows; i++)
                {
                    all[f][i] = Math.Abs(shared + (0.3 * random.NextNormal()));
                }
            }

            double width = HierarchicalConformal.HalfWidth(all[..Families], 0.9)!.Value;
            double part = all[Families].Count(s => s <= width) / (double)Rows;
            covered += part;
            squares += part * part;
        }

        double mean = covered / Trials;
        double error = Math.Sqrt(((squares / Trials) - (mean * mean)) / Trials);
        Assert.InRange(mean, 0.9 - (4 * error), 0.9 + (1.0 / (Families + 1)) + (4 * error));
    }

    [Fact]
    public void HalfWidth_RepeatsInAFamily_DoNotCountAsFamilies() =>
        Assert.Null(HierarchicalConformal.HalfWidth([.. Enumerable.Range(1, 3).Select(i => Enumerable.Repeat((double)i, 1_000).ToArray())], 0.9));
}
