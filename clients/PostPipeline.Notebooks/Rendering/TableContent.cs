using System.Text.Json;
using System.Text.Json.Nodes;

namespace PostPipeline.Notebooks.Rendering;

/// <summary>A table as it is stored in an output: cells already as text, and the CSV beside them.</summary>
internal sealed record TableContent(string Title, IReadOnlyList<string> Columns, IReadOnlyList<bool> Numeric, IReadOnlyList<IReadOnlyList<string>> Rows, int RowCount, string Csv)
{
    public static TableContent Parse(string json) => Of((JsonObject)JsonNode.Parse(json)!);

    public static TableContent Of(JsonObject json)
    {
        static string Text(JsonNode? node) => node?.GetValue<string>() ?? string.Empty;
        try
        {
            return new(
                Text(json["title"]),
                [.. ((JsonArray)json["columns"]!).Select(Text)],
                [.. ((JsonArray)json["numeric"]!).Select(node => node!.GetValue<bool>())],
                [.. ((JsonArray)json["rows"]!).Select(row => (IReadOnlyList<string>)[.. ((JsonArray)row!).Select(Text)])],
                json["rowCount"]!.GetValue<int>(),
                Text(json["csv"]));
        }
        catch (NullReferenceException)
        {
            throw new JsonException("the stored table lacks a part");
        }
    }
}
