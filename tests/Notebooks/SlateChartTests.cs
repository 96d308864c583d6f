using System.Globalization;
using System.Text.Json;
using PostPipeline.Notebooks.Charts;
using Xunit;

namespace PostPipeline.Notebooks.Tests;

/// <summary>The charts of a slate: what stands in their tables and sentences, and what a name can do in them.</summary>
public sealed class SlateChartTests
{
    private const string Hostile = "<img src=x onerror=alert(1)>";

    private static readonly DateTime Monday = new(2027, 1, 4);

    [Fact]
    public void Projects_StagesThatRunBesideEachOther_StandInRowsOfTheirOwn()
    {
        PlannedProject project = new("Alder", "proxy", Monday.AddDays(10), [new("shoot", "shoot", Monday, Monday.AddDays(5)), new("copies", "farm", Monday.AddDays(1), Monday.AddDays(6)), new("edit", "edit", Monday.AddDays(6), Monday.AddDays(12))], Monday.AddDays(13));
        Figure figure = Chart.Projects("When?", [project]);
        using JsonDocument chart = JsonDocument.Parse(figure.ToJson());
        double Row(string work) => chart.RootElement.GetProperty("data").EnumerateArray().First(t => t.GetProperty("name").GetString() == work).GetProperty("y")[0].GetDouble();
        Assert.NotEqual(Row("shoot"), Row("farm"));
        Assert.Equal(Row("shoot"), Row("edit"));
        Assert.Equal("Alder (proxy) ends on 2027-01-15, 2 days after it is due, P90 on 2027-01-16.", figure.Summary);
        Assert.Equal(3, figure.Table.Rows.Count);
    }

    [Fact]
    public void DailyLoad_SeveralProjects_SaysTheBusiestDayAndHowManyAreFull()
    {
        LoadPanel panel = new("nodes: tall", "node-hours a day", new(2027, 1, 4), [new("Alder", [10, 20, 0]), new("Birch", [0, 30, 5])], [50, 50, 0]);
        Figure figure = Chart.DailyLoad("How full?", [panel]);
        Assert.Equal("Nodes: tall: most on 2027-01-05, 50 node-hours a day; there are 50 on that day, and 2 days are full.", figure.Summary);
        Assert.Equal(4, figure.Table.Rows.Count);
        Assert.Contains("capacity up to 50 node-hours a day", figure.ToJson(), StringComparison.Ordinal);
    }

    [Fact]
    public void Lateness_Rows_AreReadAgainstTheDueDateAndNeverAsCertain()
    {
        Figure figure = Chart.Lateness("How late?", [new("Alder", -9, -6, -2.5, 1), new("Birch", -1, 3, 8, 0.25)]);
        Assert.Equal("Alder: 6 days early at P50, 2.5 days early at P90; on time with >99 %. Birch: 3 days late at P50, 8 days late at P90; on time with 25 %.", figure.Summary);
        Assert.Equal(">99 %", NumberTable.Read(figure.Table.Rows[0][4]));
        Assert.Contains(",1\r\n", figure.Table.ToCsv(), StringComparison.Ordinal);
    }

    public static TheoryData<string, Figure> Figures => new()
    {
        { "projects", Chart.Projects("t", [new(Hostile, Hostile, Monday, [new(Hostile, Hostile, Monday, Monday.AddDays(1))], Monday)]) },
        { "load", Chart.DailyLoad("t", [new(Hostile, Hostile, new(2027, 1, 4), [new(Hostile, [1])], [2])]) },
        { "areas", Chart.DailyLoad("t", [new(Hostile, "TB", new(2027, 1, 4), [new(Hostile, [1])], null), new("nearline", "TB", new(2027, 1, 4), [new(Hostile, [1])], [1])], areas: true) },
        { "lateness", Chart.Lateness("t", [new(Hostile, -1, 0, 1, 0.5)]) },
    };

    // plotly.js reads a few HTML tags inside text; every axis says its unit; what differs by hue differs by hatch too.
    [Theory]
    [MemberData(nameof(Figures))]
    public void EveryChart_HostileName_IsOnlyText(string kind, Figure figure)
    {
        string json = figure.ToJson();
        Assert.DoesNotContain("<img", json, StringComparison.Ordinal);
        Assert.DoesNotContain("\\u003cimg", json, StringComparison.OrdinalIgnoreCase);
        using JsonDocument chart = JsonDocument.Parse(json);
        JsonProperty[] axes = [.. chart.RootElement.GetProperty("layout").EnumerateObject().Where(p => p.Name.StartsWith("xaxis", StringComparison.Ordinal) || p.Name.StartsWith("yaxis", StringComparison.Ordinal))];
        Assert.Equal(kind == "areas" ? 3 : 2, axes.Length);
        Assert.All(axes, axis => Assert.True(
            axis.Value.GetProperty("title") is { ValueKind: JsonValueKind.Null } || axis.Value.GetProperty("title").GetProperty("text").GetString()!.EndsWith(')'), axis.Name));
        Assert.NotEmpty(figure.Summary);
    }

    [Theory]
    [InlineData(3, "3 nodes")]
    [InlineData(11.4, "11.4 nodes")]
    public void Axis_Count_IsReadWithWhatIsCounted(double value, string read) => Assert.Equal(read, new Axis("Nodes", "count").Read(value));

    [Fact]
    public void Axis_Probability_IsNeverReadAsCertain()
    {
        Assert.Equal(">99 %", new Axis("P(done)", "%").Read(100));
        Assert.Equal("100 %", new Axis("Of the brief", "%").Read(100));
        Assert.Equal("0.5", new Chance(0.5).Value.ToString(CultureInfo.InvariantCulture));
    }
}
