using System.Globalization;
using System.Text.RegularExpressions;
using PostPipeline.Studies.Scheduling;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Studies.Tests.Scheduling;

/// <summary>scheduling/cpm_pert_checks.csv: worked examples of critical path and PERT, the source of each in its row.</summary>
public sealed partial class CriticalPathTests
{
    public static TheoryData<string> Examples() => [.. Rows().Select(r => r["example"]).Distinct()];

    [Theory]
    [MemberData(nameof(Examples))]
    public void Network_EveryActivity_HasThePublishedTimes(string example)
    {
        CsvTable.Row[] rows = [.. Rows().Where(r => r["example"] == example)];
        CriticalPath path = new([.. rows.Select(r => Activity(r, rows))]);
        foreach (CsvTable.Row row in rows)
        {
            ActivityTimes times = path[row["activity"]];
            Equal(row["ES"], times.EarliestStart);
            Equal(row["EF"], times.EarliestFinish);
            Equal(row["LS"], times.LatestStart);
            Equal(row["LF"], times.LatestFinish);
            Equal(row["slack"], times.Slack);
            Activity activity = Activity(row, rows);
            Equal(row["expected"], activity.Duration);
            if (row["variance"].Length > 0)
            {
                // Six decimals are printed.
                Assert.Equal(double.Parse(row["variance"], CultureInfo.InvariantCulture), activity.Variance, 5.1e-7);
            }
        }

        Match critical = Critical().Match(example);
        if (critical.Success)
        {
            Assert.Equal(critical.Groups[1].Value.Split('-'), path.Critical);
        }

        // The example's name carries its length, variance and chance where they are published.
        foreach ((string name, string value) in Published().Matches(example).Select(m => (m.Groups[1].Value, m.Groups[2].Value)))
        {
            double expected = double.Parse(value, CultureInfo.InvariantCulture);
            Assert.Equal(expected, name.Trim() == "T" ? path.Duration : path.Variance, 1e-3);
        }

        Match chance = Chance().Match(example);
        if (chance.Success)
        {
            double by = double.Parse(chance.Groups[1].Value, CultureInfo.InvariantCulture);
            Assert.Equal(double.Parse(chance.Groups[2].Value, CultureInfo.InvariantCulture), path.ChanceBy(by), 1e-4);
        }
    }

    [Fact]
    public void Table_EveryRow_IsReadAndEveryPublishedTotalIsUsed()
    {
        string[] examples = [.. Rows().Select(r => r["example"]).Distinct()];
        Assert.Equal(Rows().Count, examples.Sum(e => Rows().Count(r => r["example"] == e)));
        Assert.True(Rows().Count >= 48 && examples.Length >= 4);
        Assert.All(examples, e => Assert.Matches(Published(), e));
        Assert.Equal(examples.Count(e => e.Contains("critical", StringComparison.Ordinal)), examples.Count(e => Critical().IsMatch(e)));
        Assert.Equal(examples.Count(e => e.Contains("P(T", StringComparison.Ordinal)), examples.Count(e => Chance().IsMatch(e)));
    }

    [Fact]
    public void Network_Circle_IsRefused() =>
        Assert.Throws<ArgumentException>(() => new CriticalPath([new("a", ["b"], 1), new("b", ["a"], 1)]));

    private static IReadOnlyList<CsvTable.Row> Rows() => CsvTable.Read(Outside.Table("scheduling/cpm_pert_checks.csv")).Rows;

    // A cell that is empty, or is no number, fails: every row gives its times.
    private static void Equal(string expected, double value) => Assert.Equal(double.Parse(expected, CultureInfo.InvariantCulture), value, 1e-3);

    private static Activity Activity(CsvTable.Row row, CsvTable.Row[] rows)
    {
        string[] after = After(row["predecessors"], rows);
        double Number(string column) => double.Parse(row[column], CultureInfo.InvariantCulture);
        return row["a"].Length > 0
            ? PostPipeline.Studies.Scheduling.Activity.FromPert(row["activity"], after, Number("a"), Number("m"), Number("b"))
            : new(row["activity"], after, Number("expected"));
    }

    // Either letters of activities, or "event n" where activities are arrows i-j: all arrows that end in n.
    private static string[] After(string text, CsvTable.Row[] rows) =>
        text.StartsWith("event ", StringComparison.Ordinal)
            ? [.. rows.Select(r => r["activity"]).Where(a => a.EndsWith($"-{text[6..]}", StringComparison.Ordinal))]
            : [.. text.Where(char.IsLetterOrDigit).Select(c => c.ToString())];

    [GeneratedRegex(@"(T|variance)\s*=?\s*([0-9.]+)")]
    private static partial Regex Published();

    [GeneratedRegex(@"critical ([A-Z](?:-[A-Z])+)")]
    private static partial Regex Critical();

    [GeneratedRegex(@"P\(T<=([0-9.]+)\)=([0-9.]+)")]
    private static partial Regex Chance();
}
