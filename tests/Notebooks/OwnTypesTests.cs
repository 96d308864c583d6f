using PostPipeline.Contracts.Timecodes.V1;
using PostPipeline.Notebooks.Charts;
using PostPipeline.Notebooks.Documents;
using PostPipeline.Notebooks.Rendering;
using PostPipeline.Quantities;
using PostPipeline.Studies.Outcomes;
using Xunit;
using Range = PostPipeline.Studies.Outcomes.Range;
using Tree = PostPipeline.Studies.Derivations.Derivation;

namespace PostPipeline.Notebooks.Tests;

/// <summary>What a cell shows that ends in a type of the suite. Decimal units (IEC 80000-13), commas between groups of three.</summary>
public sealed class OwnTypesTests
{
    public static TheoryData<object, string> Texts => new()
    {
        { DataSize.FromBytes(4_423_680), "4.42 MB (4,423,680 B)" },
        { DataSize.FromBytes(512), "512 B" },
        { DataRate.FromFrames(4_423_680, FrameRate.Fps24), "106 MB/s (849 Mb/s)" },
        { FrameRate.Fps24000Over1001, "24000/1001 frames/s" },
        { new Range(1.5, 2.25, 1_000), "2.25 (P10 1.5, P90 1,000)" },
        { new Probability(0.871, 0.012), "87 % ± 2" },
        { new LabelSpan { StartLabel = "01:00:00:00", FrameCount = 3_600, EndLabel = "01:02:30:00" }, "01:00:00:00, 3,600 frames, to before 01:02:30:00" },
        { new LabelSpan { StartLabel = "23:58:30:00", FrameCount = 3_600, EndLabel = "00:01:00:00", CrossesMidnight = true }, "23:58:30:00, 3,600 frames, to before 00:01:00:00, across midnight" },
    };

    [Theory]
    [MemberData(nameof(Texts))]
    public void ToBundle_Quantity_IsReadAsAPersonWouldWriteIt(object value, string expected)
    {
        Assert.Equal(expected, Renderer.ToBundle(value)[MimeBundle.PlainText]);
        Assert.Equal(expected, NumberTable.Read(value));
    }

    [Fact]
    public void ToBundle_FindingsOneOrMany_AreATableWithWhatMendsThem()
    {
        Finding finding = new("cards", "the heaviest day needs <b>six</b>", "rent two");
        foreach (object value in new object[] { finding, new[] { finding } })
        {
            MimeBundle bundle = Renderer.ToBundle(value);
            Assert.Contains("What mends it", bundle[MimeBundle.Html], StringComparison.Ordinal);
            Assert.Contains("rent two", bundle[MimeBundle.Html], StringComparison.Ordinal);
            Assert.DoesNotContain("<b>six", bundle[MimeBundle.Html], StringComparison.Ordinal);
        }
    }

    [Fact]
    public void ToBundle_OutcomeOfAPipeline_IsATableOfItsHeadlines()
    {
        PipelineOutcome outcome = Outcome("proxy");
        string one = Renderer.ToBundle(outcome)[MimeBundle.PlainText]!;
        Assert.StartsWith("proxy\n", one, StringComparison.Ordinal);
        Assert.Contains("Online peak,1 TB,2 TB,3 TB", one, StringComparison.Ordinal);
        Assert.Contains("On time if the lock holds,,>99 % ± 1,", one, StringComparison.Ordinal);
        Assert.Contains("Money (invented prices),\"9,000\",\"10,000\",\"12,000\"", one, StringComparison.Ordinal);

        string many = Renderer.ToBundle(new[] { outcome, Outcome("native") })[MimeBundle.PlainText]!;
        Assert.Contains("proxy,yes,87 % ± 2,2 TB,0 B,40,12,\"10,000 (invented prices)\"", many, StringComparison.Ordinal);
        Assert.Contains("\nnative,yes,", many, StringComparison.Ordinal);
    }

    [Fact]
    public void ToBundle_DerivationOfAStudy_Unfolds()
    {
        Tree tree = Tree.Computed("a day", "1.06 TB", "cameras × bytes", "2 × 0.53 TB", "arithmetic", Tree.Fact("cameras", "2", "the brief"));
        string html = Renderer.ToBundle(tree)[MimeBundle.Html]!;
        Assert.StartsWith("<details class=\"derivation\" open>", html, StringComparison.Ordinal);
        Assert.Contains("2 × 0.53 TB", System.Net.WebUtility.HtmlDecode(html), StringComparison.Ordinal);
        Assert.Contains("the brief", html, StringComparison.Ordinal);
    }

    private static PipelineOutcome Outcome(string name) => new()
    {
        Name = name,
        Delivery = default,
        DeliveryIfLockHolds = default,
        OnTime = new(0.871, 0.012),
        OnTimeIfLockHolds = new(0.999, 0.001),
        Locked = default,
        FarmFinish = default,
        HasFarmStage = false,
        OnlinePeak = new(1e12, 2e12, 3e12),
        NearlinePeak = default,
        Cost = new(9_000, 10_000, 12_000),
        NodeHours = new(30, 40, 50),
        PeopleHours = new(10, 12, 14),
        Stages = [],
        Costs = [new("farm", "production", default, "node-hours", default, true)],
        Payers = [],
        CostMean = 10_000,
        Generations = [],
        Gates = [],
        Quality = [],
        Findings = [],
    };
}
