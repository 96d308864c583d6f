using System.Text.Json.Nodes;
using PostPipeline.Notebooks.Rendering;

namespace PostPipeline.Browser.Tests;

/// <summary>A chart of an executed notebook, as it is handed to the charting library.</summary>
/// <param name="Title">What it says above it.</param>
/// <param name="Data">Its traces.</param>
/// <param name="Layout">Its axes, legend and notes.</param>
internal sealed record Drawn(string Title, IReadOnlyList<JsonObject> Data, JsonObject Layout)
{
    private const string Type = "application/vnd.postpipeline.figure+json";

    /// <summary>Every chart of an executed notebook, in order.</summary>
    public static IReadOnlyList<Drawn> In(string notebook) =>
        [.. ((JsonArray)JsonNode.Parse(File.ReadAllText(notebook))!["cells"]!)
            .SelectMany(cell => cell!["outputs"] as JsonArray ?? [])
            .Select(output => output!["data"]?[Type])
            .OfType<JsonNode>()
            .Select(figure => figure is JsonValue text && text.TryGetValue(out string? json) ? JsonNode.Parse(json)! : figure)
            .Select(figure => new Drawn(
                figure["title"]!.GetValue<string>(),
                [.. ((JsonArray)figure["chart"]!["data"]!).Select(t => (JsonObject)t!)],
                (JsonObject)figure["chart"]!["layout"]!))];
}
