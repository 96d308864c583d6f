using PostPipeline.Farms;
using PostPipeline.Flows;
using PostPipeline.Quantities.Randomness;
using Xunit;

namespace PostPipeline.Domain.Tests.Farms;

// Worked examples with invented inputs: common practice, no source; the arithmetic is exact.
public class WorkedExampleTests
{
    // 648,000 frames × 0.35 s = 63.0 node-hours; 10 h: 6.3; 63 · 1.03 · 1.25 ÷ (10 · 0.85 · 0.95) = 10.04, ten are 0.4 % short.
    [Fact]
    public void ByRule_SixtyThreeNodeHoursInTenHours_IsTenPointZeroFour()
    {
        double work = 648_000 * 0.35 / 3600;
        Assert.Equal(63.0, work, 1e-9);
        Assert.Equal(6.3, NodeCount.ByRule(work, 10), 1e-9);
        double raw = NodeCount.ByRule(work, 10, 1.03, 0.85, 0.95, 1.25);
        Assert.Equal(10.04, raw, 0.005);
        Assert.Equal(11, Math.Ceiling(raw));
        Assert.Equal(0.004, (raw - 10) / 10, 0.0005);
    }

    // (53.084 + 4.424) MB ÷ 0.5 s = 115.0 MB/s a node; 1,200 MB/s left over: 10.4.
    [Fact]
    public void UsefulForStorage_ElevenNodesOnTwelveHundred_TenAndFourTenths()
    {
        double node = (53.084e6 + 4.424e6) / 0.5;
        Assert.Equal(115.0e6, node, 0.05e6);
        Assert.Equal(10.4, NodeCount.UsefulForStorage(1200e6, node), 0.05);
    }

    // The same storage, simulated: rate of the farm against rate of one node, many equal tasks.
    [Theory]
    [InlineData(5, 5.0)]
    [InlineData(10, 10.0)]
    [InlineData(11, 10.433)]
    [InlineData(16, 10.433)]
    public void Run_SharedStorage_StopsPayingAtTheCeiling(int nodes, double worth)
    {
        FarmScenario scenario = new()
        {
            Nodes = [new NodeClass { Name = "node", Count = nodes }],
            Classes = [new JobClass { Name = "pull", Storage = 0 }],
            Storage = [new StoragePool("array", 1200e6)],
            Jobs = [new FarmJob { Frames = 100L * nodes * 40, SegmentFrames = 100, SecondsPerFrame = 0.5, ReadBytesPerFrame = 4_424_000, WriteBytesPerFrame = 53_084_000 }],
        };
        double oneNode = 100.0 * nodes * 40 * 0.5;
        Assert.Equal(worth, oneNode / Farm.FinishSeconds(scenario), 0.01 * worth);
    }

    // Twelve nodes, the first 1.5 times slower (not on the 45 s), earliest free first, ties to the lowest.
    [Theory]
    [InlineData(10_800, 13_005)]
    [InlineData(2_000, 9_870)]
    [InlineData(500, 10_320)]
    [InlineData(100, 13_875)]
    public void Run_SegmentLengths_FinishToTheSecond(long segment, double seconds)
    {
        FarmScenario scenario = new()
        {
            Nodes = [new NodeClass { Name = "slow", Count = 1, TimeFactors = [1.5] }, new NodeClass { Name = "node", Count = 11 }],
            Classes = [new JobClass { Name = "final" }],
            Jobs = [new FarmJob { Frames = 129_600, SegmentFrames = segment, SecondsPerFrame = 0.8, OverheadSeconds = 45 }],
        };
        Assert.Equal(seconds, Farm.FinishSeconds(scenario));
    }

    [Theory]
    [InlineData(12, 2.40)]
    [InlineData(8, 3.60)]
    public void Run_Licences_HoldBackEqualNodes(int licences, double hours)
    {
        FarmScenario scenario = new()
        {
            Nodes = [new NodeClass { Name = "node", Count = 12 }],
            Classes = [new JobClass { Name = "final", Licence = 0 }],
            Licences = [new LicencePool("renderer", licences)],
            Jobs = [new FarmJob { Frames = 129_600, SegmentFrames = 300, SecondsPerFrame = 0.8 }],
        };
        Assert.Equal(hours, Farm.FinishSeconds(scenario) / 3600, 1e-9);
    }

    // 20 · 168 · 0.85 · 0.95 = 2,713.2 node-hours a week; 5,575 due by week 2 against 5,426.4: short by 148.6; one more covers it.
    [Theory]
    [InlineData(20, 148.6)]
    [InlineData(21, -122.72)]
    public void Worst_TwoWeeks_ShortByOneNode(int nodes, double shortBy)
    {
        long week = FarmClock.FromHours(168);
        CapacityGap gap = CapacityCheck.Worst([new(0, 2 * week, 3000), new(0, 2 * week, 2575)], nodes, Windows.Always, 0.85 * 0.95)!;
        Assert.Equal(shortBy, gap.ShortNodeHours, 1e-6);
        Assert.Equal(5575, gap.DemandNodeHours, 1e-9);
    }

    // P50 9.2 h, log-sd 0.18: P80 10.70, P90 11.59 h; the closed form, then the shared error of the simulation at two sizes.
    [Fact]
    public void SharedError_LogNormal_HasItsQuantiles()
    {
        Assert.Equal(10.70, 9.2 * Math.Exp(0.18 * NormalDistribution.Quantile(0.8)), 0.005);
        Assert.Equal(11.59, 9.2 * Math.Exp(0.18 * NormalDistribution.Quantile(0.9)), 0.005);
        FarmScenario scenario = Farm.Of(1, new FarmJob { Frames = 33_120, SecondsPerFrame = 1, SegmentFrames = 3312 })
            with
        { Classes = [new JobClass { Name = "final", SharedLogSd = 0.18 }] };
        double[] hours = [.. Enumerable.Range(0, 4000).Select(r => FarmClock.ToHours(FarmSimulation.Run(scenario, 7, r).Finish!.Value))];
        Assert.Equal(9.2, PostPipeline.Quantities.Quantiles.Of(hours, 0.5), 0.1);
        Assert.Equal(10.70, PostPipeline.Quantities.Quantiles.Of(hours, 0.8), 0.15);
        Assert.Equal(11.59, PostPipeline.Quantities.Quantiles.Of(hours, 0.9), 0.2);
    }
}
