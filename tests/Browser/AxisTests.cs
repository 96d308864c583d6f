using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using PostPipeline.Notebooks.Documents;
using Xunit;

namespace PostPipeline.Browser.Tests;

/// <summary>Every axis of every chart of every notebook that measures something says what, and in which unit.</summary>
[Collection(ReportCollection.Name)]
public sealed partial class AxisTests(Reports reports)
{
    public static TheoryData<string> All => [.. NotebookFile.NamesInside];

    [Theory]
    [MemberData(nameof(All))]
    public async Task Axes_ThatMeasure_CarryAUnit(string name)
    {
        foreach (Drawn chart in Drawn.In((await reports.OfAsync(name)).Notebook))
        {
            (string Name, JsonObject Axis)[] axes = [.. chart.Layout.Where(p => AxisName().IsMatch(p.Key)).Select(p => (p.Key, (JsonObject)p.Value!))];
            Assert.True(axes.Length >= 2, $"{chart.Title}: {axes.Length} axes");
            Assert.All(axes.Where(a => !IsAListOfNames(a.Axis)), a => Assert.Matches(@"^.+ \(.+\)$", a.Axis["title"]?["text"]?.GetValue<string>() ?? $"{chart.Title}: {a.Name} has no title"));
        }
    }

    // Rows that carry names have them as ticks.
    private static bool IsAListOfNames(JsonObject axis) =>
        axis["title"]?["text"] is null && (axis["ticktext"] is JsonArray || axis["type"]?.GetValue<string>() is "category" or "multicategory" || axis["autorange"]?.GetValue<string>() == "reversed");

    [GeneratedRegex(@"^[xy]axis\d*$", RegexOptions.CultureInvariant)]
    private static partial Regex AxisName();
}
