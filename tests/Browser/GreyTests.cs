using System.Text.Json.Nodes;
using PostPipeline.Notebooks.Documents;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Browser.Tests;

/// <summary>
/// Every chart of every notebook in grey: series that share a chart differ in kind, dash, marker, hatch or a name written on
/// them, or else by 3:1 in relative luminance (<see cref="Luminance"/>). Hue alone tells nothing apart.
/// </summary>
[Collection(ReportCollection.Name)]
public sealed class GreyTests(Reports reports)
{
    public static TheoryData<string> All => [.. NotebookFile.NamesInside];

    [Theory]
    [MemberData(nameof(All))]
    public async Task Charts_WithoutTheirHues_KeepTheirSeriesApart(string name)
    {
        foreach (Drawn chart in Drawn.In((await reports.OfAsync(name)).Notebook))
        {
            Mark[] marks = [.. chart.Data.Where(IsASeries).Select(Mark.Of)];
            for (int i = 0; i < marks.Length; i++)
            {
                Assert.True(marks[i].IsApartInItself, $"{chart.Title}: the marks of '{marks[i].Name}' differ in hue only");
                for (int j = 0; j < i; j++)
                {
                    Assert.True(marks[i].IsApartFrom(marks[j]), $"{chart.Title}: '{marks[j].Name}' and '{marks[i].Name}' differ in hue only ({marks[j].Signature}; {marks[i].Signature})");
                }
            }
        }
    }

    [Fact]
    public void Marks_ThatDifferInHueOnly_AreFound()
    {
        static Mark Bar(string color, string hatch) => Mark.Of(new()
        {
            ["type"] = "bar",
            ["name"] = "a",
            ["marker"] = new JsonObject { ["color"] = color, ["pattern"] = new JsonObject { ["shape"] = hatch } },
        });
        Assert.False(Bar("#0072B2", "").IsApartFrom(Bar("#009E73", "")));
        Assert.True(Bar("#0072B2", "").IsApartFrom(Bar("#009E73", "/")));
        Assert.True(Bar("#0072B2", "").IsApartFrom(Bar("#F0E442", "")));
    }

    // The edges of a band and the repeats of a series in further panels belong to a series that is in the legend.
    private static bool IsASeries(JsonObject trace) => trace["showlegend"]?.GetValue<bool>() != false;

    private sealed record Mark(string Name, string Signature, string Color, bool IsApartInItself)
    {
        public static Mark Of(JsonObject trace)
        {
            string mode = Text(trace["mode"]);
            bool lines = mode.Contains("lines", StringComparison.Ordinal), markers = mode.Contains("markers", StringComparison.Ordinal);
            JsonNode? colors = lines && !markers ? trace["line"]?["color"] : trace["marker"]?["color"], symbols = trace["marker"]?["symbol"];
            string signature = string.Join(' ', new[]
            {
                Text(trace["type"]),
                lines ? "line " + Text(trace["line"]?["dash"]) : string.Empty,
                markers ? "marker " + symbols?.ToJsonString() : string.Empty,
                "hatch " + Hatch(trace["marker"]?["pattern"]) + Hatch(trace["fillpattern"]),
                trace["name"] is null && trace["text"] is JsonArray { Count: 1 } written ? $"written {written[0]} in {trace["y"]?[0]}" : string.Empty,
            }.Where(part => part.Length > 0));
            return new(Text(trace["name"]), signature, Colors(trace["fillcolor"] is not null && trace["stackgroup"] is not null ? trace["fillcolor"] : colors)[0], IsApart(Colors(colors), symbols as JsonArray));
        }

        public bool IsApartFrom(Mark other) => Signature != other.Signature || Luminance.Contrast(Color, other.Color) >= Luminance.Apart;

        // Marks of one series in several colours differ in shape as well, or in lightness.
        private static bool IsApart(string[] colors, JsonArray? symbols) =>
            !colors.SelectMany((one, i) => colors.Skip(i + 1).Select((other, k) => (One: one, Other: other, I: i, J: i + 1 + k)))
                .Any(pair => pair.One != pair.Other && Luminance.Contrast(pair.One, pair.Other) < Luminance.Apart && (symbols is null || Text(symbols[pair.I]) == Text(symbols[pair.J])));

        private static string[] Colors(JsonNode? color) => color is JsonArray several ? [.. several.Select(Text).DefaultIfEmpty("#000000")] : [color is null ? "#000000" : Text(color)];

        private static string Hatch(JsonNode? pattern) => Text(pattern?["shape"]) is { Length: > 0 } shape ? shape + Text(pattern!["size"]) : string.Empty;

        private static string Text(JsonNode? node) => node is JsonValue value ? value.ToString() : string.Empty;
    }
}
