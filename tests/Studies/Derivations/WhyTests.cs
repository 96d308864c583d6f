using PostPipeline.Studies.Derivations;
using PostPipeline.Studies.Outcomes;
using PostPipeline.Studies.Printing;
using Xunit;

namespace PostPipeline.Studies.Tests.Derivations;

/// <summary>The trees behind the headline numbers: formula, numbers put in, inputs with their sources, and the value itself.</summary>
public sealed class WhyTests
{
    private static readonly StudyModel Model = new(StudyFixtures.Prepared(
        StudyFixtures.ThreeCameras
            .Replace("hours_per_day: 2.5 h", "hours_per_day: 2.5 h\n  day_spread: 0", StringComparison.Ordinal)
            .Replace("lock: 2027-03-01", "lock: 2027-03-01\n  lock_slip: {low: 0 d, likely: 5 d, high: 18 d, known: guessed, from: post supervisor}", StringComparison.Ordinal)
        + "\nstorage: {online: {capacity: 1 PB}}\nprices: {tape: {value: 90, known: quoted, from: a shop}}\nevents: [{name: refused, probability: 0.15, delay: 5 d, hits: review}]\n"));

    private static readonly Comparison Answer = Compare.Run(Model, 100);

    public static TheoryData<string> Names => [.. Why.Names];

    [Theory]
    [MemberData(nameof(Names))]
    public void Of_EveryHeadlineNumber_HasValueFormulaInputsAndSources(string name)
    {
        IReadOnlyList<Derivation> trees = new Why(Answer).Of(name);
        Assert.Contains(trees.Count, new[] { 1, 3 });
        Assert.All(trees.Where(t => t.Formula.Length > 0), t =>
        {
            Assert.NotEmpty(t.Substituted);
            Assert.NotEmpty(t.Inputs);
            Assert.NotEmpty(t.Value);
        });
        Assert.Contains(trees, t => t.Formula.Length > 0);
        Assert.All(trees.SelectMany(Leaves), leaf => Assert.True(leaf.Source.Length > 0 && leaf.Value.Length > 0, leaf.Name));
        Assert.All(trees.SelectMany(t => t.Lines()), l => Assert.DoesNotContain("NaN", l, StringComparison.Ordinal));
    }

    [Fact]
    public void BytesPerDay_ThreeCameras_IsTheWorkedNumber()
    {
        // 3 cameras × 2.5 h a day of clip R: 2.867 TB a day, 71.66 TB in 25 days (common practice, no source).
        Derivation tree = Assert.Single(new Why(Answer).Of("bytes-per-day"));
        Assert.Equal(("2.87 TB", "71.7 TB ÷ 25 days"), (tree.Value, tree.Substituted));
        Assert.Equal(3, tree.Inputs.Count);
        Derivation camera = tree.Inputs[0];
        Assert.Equal("5,400,000 × 4,423,680 B", camera.Substituted);
        Assert.Contains(camera.Inputs, i => i.Name == "shoot.hours_per_day" && i.Value == "2.5 h" && i.Source == "the brief, line 8");
    }

    [Fact]
    public void RecordTime_Tree_PutsSizeAndRatesIn()
    {
        // The fixture's fact of 4,800 s stands for the service's answer; the tree puts the brief's numbers beside it.
        Derivation tree = new Why(Answer).Of("record-time")[0];
        Assert.Equal("1.33 h", tree.Value);
        Assert.StartsWith("1 TB ÷ 106 MB/s written; 106 MB/s against 900 MB/s × 0.85 = 765 MB/s", tree.Substituted, StringComparison.Ordinal);
    }

    [Fact]
    public void Delivery_Chain_EndsWithReviewAndNamesWhatLockHangsOn()
    {
        Derivation tree = new Why(Answer).Of("delivery").Single(t => t.Name.StartsWith("transcode", StringComparison.Ordinal));
        string[] chain = tree.Substituted.Split(" → ");
        Assert.Equal(("edit to lock", "review and re-delivery"), (chain[0], chain[^1]));
        Derivation edit = tree.Inputs.Single(i => i.Name == "edit to lock");
        Assert.Contains(edit.Inputs, i => i is { Name: "edit.lock_slip", Value: "0 d / 5 d / 18 d" } && i.Source.EndsWith("post supervisor", StringComparison.Ordinal));
        Assert.Contains(edit.Inputs, i => i is { Name: "lock date", Value: "2027-03-01" });
        Assert.Contains($"P90 {Model.Clock.Text(Answer.Of("transcode").Delivery.P90)}", tree.Value, StringComparison.Ordinal);
    }

    [Fact]
    public void OnTime_Tree_CountsTheDraws()
    {
        Derivation tree = new Why(Answer).Of("on-time").Single(t => t.Name.StartsWith("proxy", StringComparison.Ordinal));
        int kept = Answer.Evaluation.Pipelines[2].Delivered.Count(d => d <= Model.Due);
        Assert.Equal($"{kept} of 100 draws by 2027-05-03 18:00", tree.Substituted);
        Assert.Contains(tree.Inputs, i => i.Name == "refused" && i.Value.StartsWith("15 %", StringComparison.Ordinal));
    }

    [Fact]
    public void Cost_Tree_HasEveryLineWithItsPriceAndPayer()
    {
        Derivation tree = new Why(Answer).Of("cost").Single(t => t.Name.StartsWith("proxy", StringComparison.Ordinal));
        PipelineOutcome outcome = Answer.Of("proxy");
        Assert.Equal(outcome.Costs.Select(c => c.Name), tree.Inputs.Select(i => i.Name));
        Assert.Equal(string.Join(" + ", outcome.Costs.Select(c => Numbers.Three(c.Money.P50))), tree.Substituted);
        Derivation tapes = tree.Inputs.Single(i => i.Name == "tapes");
        Assert.Equal(("10 tapes", "paid by production"), (tapes.Substituted, tapes.Source));
        Assert.Contains(tapes.Inputs, i => i.Name == "prices.tape" && i.Value == "90" && i.Source.Contains("a shop", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("native", "online-peak", "originals", "71.7 TB")]
    [InlineData("proxy", "nearline-peak", "originals", "71.7 TB")]
    public void Peak_Tree_ListsTheGenerations(string pipeline, string name, string generation, string size)
    {
        Derivation tree = new Why(Answer).Of(name).Single(t => t.Name.StartsWith(pipeline, StringComparison.Ordinal));
        Assert.Contains(tree.Inputs, i => i.Name == generation && i.Value == size && i.Source.Contains("paid by production", StringComparison.Ordinal));
        Assert.Contains(size, tree.Substituted, StringComparison.Ordinal);
    }

    // 25 days × 3 cameras × 2.5 h × 3600 × 24 fps = 16,200,000 frames at 0.1 s, 30 s for 2,000 of them, 1.5 % done again:
    // (0.1 + 0.015) ÷ 0.985 × 16.2 M ÷ 3600 = 525 node-hours on nodes of the reference speed.
    [Fact]
    public void NodeHours_Tree_AddsItsStages()
    {
        Derivation tree = new Why(Answer).Of("node-hours").Single(t => t.Name.StartsWith("transcode", StringComparison.Ordinal));
        Assert.Equal(["convert all", "final render"], tree.Inputs.Select(i => i.Name));
        Assert.Equal("525 node-hours", tree.Inputs[0].Value);
        Assert.StartsWith("525 + ", tree.Substituted, StringComparison.Ordinal);
    }

    [Fact]
    public void FarmFinish_Tree_NamesNodesRatesAndCalibration()
    {
        Derivation tree = new Why(Answer).Of("farm-finish").Single(t => t.Name.StartsWith("transcode", StringComparison.Ordinal));
        Assert.Contains(tree.Inputs, i => i is { Name: "nodes", Value: "4 node" });
        Assert.Contains(tree.Inputs, i => i.Name.StartsWith("seconds per frame, transcode", StringComparison.Ordinal) && i.Value.StartsWith("0.1 s", StringComparison.Ordinal) && i.Source == "figures of a test");
        Assert.Contains(tree.Inputs, i => i is { Name: "simulated against fluid", Value: "not calibrated" });
        Assert.Contains(new Why(Answer).Of("farm-finish"), t => t.Name.StartsWith("native", StringComparison.Ordinal) && t.Value == "the farm converts nothing");
    }

    [Fact]
    public void OffloadEnd_Tree_NamesTheSlowestLink()
    {
        Derivation tree = Assert.Single(new Why(Answer).Of("offload-end"));
        Assert.Equal("20:00", tree.Value);
        Assert.EndsWith("slowest link: copy 2", tree.Substituted, StringComparison.Ordinal);
        Assert.Contains(tree.Inputs, i => i is { Name: "reader", Value: "800 MB/s read" });
    }

    [Fact]
    public void Of_AnotherName_NamesTheNearest() =>
        Assert.Contains("did you mean 'on-time'?", Assert.Throws<ArgumentException>(() => new Why(Answer).Of("on-tim")).Message, StringComparison.Ordinal);

    private static IEnumerable<Derivation> Leaves(Derivation tree) => tree.Inputs.Count == 0 ? [tree] : tree.Inputs.SelectMany(Leaves);
}
