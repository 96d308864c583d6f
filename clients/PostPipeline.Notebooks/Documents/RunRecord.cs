using System.Text.Json.Nodes;

namespace PostPipeline.Notebooks.Documents;

/// <summary>What a run was: everything that is needed to do it again.</summary>
/// <param name="Inputs">Parameter and value, as text, in the order of declaration.</param>
/// <param name="Versions">Part and version.</param>
/// <param name="Problem">What ended the run early, or null.</param>
public sealed record RunRecord(IReadOnlyList<(string Name, string Value)> Inputs, IReadOnlyList<(string Part, string Version)> Versions, string? Problem = null)
{
    /// <summary>The seed, and digests that change with the inputs.</summary>
    public IReadOnlyList<(string Name, string Value)> Marks { get; init; } = [];

    internal JsonObject ToJson()
    {
        JsonObject json = new() { ["inputs"] = Pairs(Inputs), ["marks"] = Pairs(Marks), ["versions"] = Pairs(Versions) };
        if (Problem is not null)
        {
            json["problem"] = Problem;
        }

        return json;
    }

    private static JsonObject Pairs(IReadOnlyList<(string Name, string Value)> pairs)
    {
        JsonObject json = [];
        foreach ((string name, string value) in pairs)
        {
            json[name] = value;
        }

        return json;
    }
}
