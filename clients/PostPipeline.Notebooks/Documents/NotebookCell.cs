using System.Text.Json.Nodes;

namespace PostPipeline.Notebooks.Documents;

/// <summary>One cell of a notebook.</summary>
/// <param name="Index">Its place, from 0.</param>
/// <param name="Kind">"code", "markdown" or "raw".</param>
/// <param name="Source">Its text, lines ended by \n.</param>
/// <param name="Metadata">Its metadata as read.</param>
public sealed record NotebookCell(int Index, string Kind, string Source, JsonObject Metadata)
{
    /// <summary>The tag of the one cell that declares parameters.</summary>
    public const string ParametersTag = "parameters";

    /// <summary>The tag of a cell whose output is hidden until somebody asks for it.</summary>
    public const string AnswerTag = "answer";

    /// <summary>Render times learned from the invented rows, which a study begins with.</summary>
    public const string RenderTimesAhead = "render times";

    /// <summary>Whether it holds code.</summary>
    public bool IsCode => Kind == "code";

    /// <summary>Its tags.</summary>
    public IReadOnlyList<string> Tags { get; } = Texts(Metadata["tags"]);

    /// <summary>The parameters that it says it reads; null where it says nothing, and then it depends on all.</summary>
    public IReadOnlyList<string>? Reads { get; } = Metadata["postpipeline"] is JsonObject own && own["reads"] is JsonArray reads ? Texts(reads) : null;

    /// <summary>What can be made ready for it while the cells before it are compiled and run, such as <see cref="RenderTimesAhead"/>.</summary>
    public IReadOnlyList<string> Ahead { get; } = Texts((Metadata["postpipeline"] as JsonObject)?["ahead"]);

    /// <summary>Whether it carries a tag.</summary>
    /// <param name="tag">The tag.</param>
    public bool Has(string tag) => Tags.Contains(tag);

    private static string[] Texts(JsonNode? node) => node is JsonArray array
        ? [.. array.Where(item => item is JsonValue value && value.TryGetValue(out string? _)).Select(item => item!.GetValue<string>())]
        : [];
}
