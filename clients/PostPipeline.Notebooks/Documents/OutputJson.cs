using System.Text.Json.Nodes;
using PostPipeline.Notebooks.Rendering;

namespace PostPipeline.Notebooks.Documents;

/// <summary>Outputs as nbformat writes them, both ways; the same form crosses the pipe between the two processes of a run.</summary>
internal static class OutputJson
{
    /// <param name="output">The output.</param>
    /// <param name="count">The execution count of its cell.</param>
    /// <param name="forViewer">Adds to a chart the HTML by which a notebook viewer draws it.</param>
    public static JsonObject ToNotebook(CellOutput output, int count, bool forViewer = false) => output switch
    {
        CellOutput.Text text => new() { ["output_type"] = "stream", ["name"] = text.Name, ["text"] = text.Content },
        CellOutput.Value { IsResult: true } value => new() { ["output_type"] = "execute_result", ["execution_count"] = count, ["metadata"] = new JsonObject(), ["data"] = Data(value.Bundle, forViewer) },
        CellOutput.Value value => new() { ["output_type"] = "display_data", ["metadata"] = new JsonObject(), ["data"] = Data(value.Bundle, forViewer) },
        CellOutput.Error error => new()
        {
            ["output_type"] = "error",
            ["ename"] = error.Kind,
            ["evalue"] = error.Message,
            ["traceback"] = new JsonArray([.. error.Trace.Select(line => JsonValue.Create(line))]),
        },
        _ => throw new ArgumentOutOfRangeException(nameof(output), output, "unknown kind of output"),
    };

    public static CellOutput FromNotebook(JsonObject node, int? line = null) => node["output_type"]!.GetValue<string>() switch
    {
        "stream" => new CellOutput.Text(node["name"]!.GetValue<string>(), node["text"]!.GetValue<string>()),
        "execute_result" => new CellOutput.Value(Bundle(node), true),
        "display_data" => new CellOutput.Value(Bundle(node), false),
        _ => new CellOutput.Error(node["ename"]!.GetValue<string>(), node["evalue"]!.GetValue<string>(), line, [.. ((JsonArray)node["traceback"]!).Select(item => item!.GetValue<string>())]),
    };

    private static JsonObject Data(MimeBundle bundle, bool forViewer)
    {
        JsonObject data = [];
        if (forViewer && bundle[MimeBundle.Figure] is string figure)
        {
            data[MimeBundle.Html] = FigureHtml.Standalone(figure);
        }

        foreach ((string mime, string content) in bundle.Parts)
        {
            data[mime] = IsJson(mime) ? JsonNode.Parse(content) : JsonValue.Create(content);
        }

        return data;
    }

    private static MimeBundle Bundle(JsonObject node) => new(((JsonObject)node["data"]!).ToDictionary(
        part => part.Key,
        part => IsJson(part.Key) ? part.Value!.ToJsonString() : part.Value!.GetValue<string>()));

    private static bool IsJson(string mime) => mime.EndsWith("+json", StringComparison.Ordinal) || mime == "application/json";
}
