using System.Text.Json.Nodes;
using PostPipeline.Studies.Briefs;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Studies.Tests.Briefs;

/// <summary>docs/brief.md and docs/brief.schema.json are made from the reader's own table; POSTPIPELINE_WRITE_DOCS=1 writes them.</summary>
public sealed class BriefDocumentTests
{
    [Fact]
    public void Documentation_InTheRepository_IsWhatTheReaderKnows()
    {
        string page = Path.Combine(Outside.Root, "docs", "brief.md");
        string schema = Path.Combine(Outside.Root, "docs", "brief.schema.json");
        if (Environment.GetEnvironmentVariable("POSTPIPELINE_WRITE_DOCS") == "1")
        {
            File.WriteAllText(page, BriefDocument.Markdown());
            File.WriteAllText(schema, BriefDocument.Schema());
        }

        Assert.Equal(BriefDocument.Markdown(), File.ReadAllText(page));
        Assert.Equal(BriefDocument.Schema(), File.ReadAllText(schema));
    }

    [Fact]
    public void Schema_Top_RefusesUnknownKeysAndRequiresTheAnswers()
    {
        JsonNode schema = JsonNode.Parse(BriefDocument.Schema())!;
        Assert.False((bool)schema["additionalProperties"]!);
        Assert.Contains("production", schema["required"]!.AsArray().Select(n => (string)n!));
        Assert.Contains("lock", schema["properties"]!["edit"]!["required"]!.AsArray().Select(n => (string)n!));
    }
}
