using System.Globalization;
using System.Text.RegularExpressions;
using PostPipeline.Farms;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Domain.Tests.Farms;

// Graham, Bounds for Certain Multiprocessing Anomalies (Bell System Technical Journal 45, 1966) and Bounds on Multiprocessing
// Timing Anomalies (SIAM Journal on Applied Mathematics 17, 1969); instances and optima as in the copied tables.
public class ListSchedulingTests
{
    public static TheoryData<int> GrahamRows => [.. Enumerable.Range(0, CsvTable.Read(Outside.Table("scheduling/graham_checks.csv")).Rows.Count)];

    public static TheoryData<int> SmallRows => [.. Enumerable.Range(0, CsvTable.Read(Outside.Table("scheduling/pcmax_small_exact.csv")).Rows.Count)];

    [Theory]
    [MemberData(nameof(GrahamRows))]
    public void Run_GrahamInstance_FinishesExactly(int index)
    {
        CsvTable.Row row = CsvTable.Read(Outside.Table("scheduling/graham_checks.csv")).Rows[index];
        int machines = int.Parse(row["machines"], CultureInfo.InvariantCulture);
        double finish = Farm.FinishSeconds(Farm.Of(machines, [.. Jobs(row["jobs_or_tasks"])]));
        Assert.Equal(double.Parse(row["expected_makespan"], CultureInfo.InvariantCulture), finish);
        Match bound = Regex.Match(row["ratio_bound"], @"=([0-9.]+)$");
        if (bound.Success)
        {
            double optimal = double.Parse(row["optimal_makespan"], CultureInfo.InvariantCulture);
            Assert.Equal(double.Parse(bound.Groups[1].Value, CultureInfo.InvariantCulture), finish / optimal, 1e-6);
        }
    }

    // List order and longest first: never below the optimum, nor beyond Graham's bounds 2 − 1/m and 4/3 − 1/(3m).
    [Theory]
    [MemberData(nameof(SmallRows))]
    public void Run_IdenticalMachines_LiesBetweenOptimumAndBound(int index)
    {
        CsvTable.Row row = CsvTable.Read(Outside.Table("scheduling/pcmax_small_exact.csv")).Rows[index];
        int machines = int.Parse(row["m"], CultureInfo.InvariantCulture);
        double[] times = [.. Numbers(row["p"]).Select(t => (double)t)];
        double optimal = double.Parse(row["optimal"], CultureInfo.InvariantCulture);
        double list = Farm.FinishSeconds(Farm.Of(machines, [.. times.Select(t => Farm.Task(t))]));
        Assert.InRange(list, optimal, optimal * (2 - (1.0 / machines)));
        double longestFirst = Farm.FinishSeconds(Farm.Of(machines, [.. times.OrderDescending().Select(t => Farm.Task(t))]));
        Assert.Equal(double.Parse(row["LPT"], CultureInfo.InvariantCulture), longestFirst);
        Assert.InRange(longestFirst, optimal, optimal * ((4.0 / 3) - (1.0 / (3 * machines))));
    }

    private static IEnumerable<FarmJob> Jobs(string text)
    {
        if (Regex.Match(text, @"^times=\[(.*?)\];prec=\[(.*?)\];list=\[(.*?)\]$") is { Success: true } full)
        {
            int[] times = Numbers(full.Groups[1].Value);
            int[] list = Numbers(full.Groups[3].Value);
            int[] pairs = Numbers(full.Groups[2].Value);
            foreach (int task in list)
            {
                int[] after = [.. Enumerable.Range(0, pairs.Length / 2).Where(i => pairs[(2 * i) + 1] == task).Select(i => Array.IndexOf(list, pairs[2 * i]))];
                yield return Farm.Task(times[task - 1], after);
            }
        }
        else if (text.StartsWith("p=", StringComparison.Ordinal))
        {
            foreach (int time in Numbers(text))
            {
                yield return Farm.Task(time);
            }
        }
        else
        {
            int[] words = Numbers(text);
            for (int i = 0; i < words[0]; i++)
            {
                yield return Farm.Task(1);
            }

            yield return Farm.Task(words[1]);
        }
    }

    private static int[] Numbers(string text) =>
        [.. Regex.Matches(text, @"\d+").Select(m => int.Parse(m.Value, CultureInfo.InvariantCulture))];
}
