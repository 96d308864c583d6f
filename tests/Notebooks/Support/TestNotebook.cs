using System.Text.Json.Nodes;
using PostPipeline.Notebooks.Documents;
using PostPipeline.Notebooks.Runs;

namespace PostPipeline.Notebooks.Tests.Support;

/// <summary>Small notebooks made in a test.</summary>
internal static class TestNotebook
{
    public static NotebookFile Of(params (string Kind, string Source, string[] Tags)[] cells)
    {
        string json = new JsonObject
        {
            ["nbformat"] = 4,
            ["nbformat_minor"] = 5,
            ["metadata"] = new JsonObject { ["kernelspec"] = new JsonObject { ["name"] = "postpipeline" } },
            ["cells"] = new JsonArray([.. cells.Select((cell, i) => (JsonNode)Cell(cell, i))]),
        }.ToJsonString();
        return NotebookFile.Parse(json, "test");
    }

    public static NotebookFile OfCode(params string[] cells) => Of([.. cells.Select(code => ("code", code, Array.Empty<string>()))]);

    public static Task<RunResult> RunAsync(NotebookFile notebook, TimeSpan? timeout = null, params (string Name, string Value)[] values) =>
        NotebookRunner.Beside().RunAsync(notebook, new(values.ToDictionary(v => v.Name, v => v.Value), timeout ?? TimeSpan.FromSeconds(60)));

    private static JsonObject Cell((string Kind, string Source, string[] Tags) cell, int index)
    {
        JsonObject json = new()
        {
            ["id"] = "c" + index,
            ["cell_type"] = cell.Kind,
            ["metadata"] = new JsonObject { ["tags"] = new JsonArray([.. cell.Tags.Select(tag => JsonValue.Create(tag))]) },
            ["source"] = cell.Source,
        };
        if (cell.Kind == "code")
        {
            json["outputs"] = new JsonArray();
            json["execution_count"] = null;
        }

        return json;
    }
}
