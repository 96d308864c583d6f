using CsCheck;
using PostPipeline.Farms;
using PostPipeline.Flows;
using Xunit;

namespace PostPipeline.Domain.Tests.Farms;

public class SizingTests
{
    // Property: nothing is random, so the answer is the smallest count that a search through all of them finds.
    [Fact]
    public void Smallest_EqualTasks_EqualsTryingEveryCount() =>
        Gen.Select(Gen.Int[1, 60], Gen.Int[1, 20], Gen.Int[1, 200]).Sample(
            (tasks, seconds, due) =>
            {
                FarmScenario farm = Farm.Of(1, new FarmJob { Frames = tasks, SegmentFrames = 1, SecondsPerFrame = seconds });
                FarmSizingResult result = FarmSizing.Smallest(farm, 0, FarmClock.FromSeconds(due), 0.9, 1, 2, 80);
                int? expected = Enumerable.Range(1, 80).Select(n => (int?)n).FirstOrDefault(n => Math.Ceiling((double)tasks / n!.Value) * seconds <= due);
                Assert.Equal(expected, result.Nodes);
            },
            iter: 60);

    // A farm sized for a probability meets it, one node less does not, and the rule of thumb's safety factor is not on top.
    [Fact]
    public void Smallest_UncertainWork_MeetsTheProbabilityAndNoMore()
    {
        FarmScenario farm = new()
        {
            Nodes = [new NodeClass { Name = "node", Count = 0, SlowProbability = 0.1 }],
            Classes = [new JobClass { Name = "transcode", SharedLogSd = 0.15, TaskLogSd = 0.2, FailureProbability = 0.02 }],
            Jobs = [new FarmJob { Frames = 100_000, SegmentFrames = 500, SecondsPerFrame = 0.35, OverheadSeconds = 20 }],
        };
        long due = FarmClock.FromHours(2);
        FarmSizingResult result = FarmSizing.Smallest(farm, 0, due, 0.9, 5, 400, 100);
        FarmSize answer = result.Sizes.Single(s => s.Nodes == result.Nodes);
        FarmSize less = result.Sizes.Single(s => s.Nodes == result.Nodes - 1);
        Assert.True(answer.OnTime.Value >= 0.9 && less.OnTime.Value < 0.9);
        Assert.True(answer.FinishP90 <= due && answer.FinishP50 < answer.FinishP90);
        Assert.True(result.Nodes > result.NodesByDivision);
        Assert.Equal((100_000 * 0.35 + (200 * 20)) / 7200, result.NodesByDivision, 1e-9);
        Assert.All(result.Sizes.Zip(result.Sizes.Skip(1)), pair => Assert.True(pair.First.Nodes < pair.Second.Nodes));
    }

    // The node that storage makes useless: 1,200 MB/s feed 10.43 nodes of 115.016 MB/s.
    [Fact]
    public void UsefulNodes_Storage_IsTheCeilingOfTheWorkedExample()
    {
        FarmScenario farm = new()
        {
            Nodes = [new NodeClass { Name = "node", Count = 12 }],
            Classes = [new JobClass { Name = "pull", Storage = 0, Licence = 0 }],
            Licences = [new LicencePool("renderer", 11)],
            Storage = [new StoragePool("array", 1200e6)],
            Jobs = [new FarmJob { Frames = 1000, SegmentFrames = 10, SecondsPerFrame = 0.5, ReadBytesPerFrame = 4_424_000, WriteBytesPerFrame = 53_084_000 }],
        };
        (double nodes, FluidLimit limit) = FarmBounds.UsefulNodes(farm);
        Assert.Equal((10.43, FluidLimit.Storage), (Math.Round(nodes, 2), limit));
        (nodes, limit) = FarmBounds.UsefulNodes(farm with { Licences = [new LicencePool("renderer", 8)] });
        Assert.Equal((8, FluidLimit.Licences), (nodes, limit));
    }

    // Aim at 2 to 5 % of overhead and several tasks a node: of the worked example's lengths 2,000 frames are best.
    [Fact]
    public void Compare_WorkedExample_BestIsBetween()
    {
        FarmScenario farm = new()
        {
            Nodes = [new NodeClass { Name = "slow", Count = 1, TimeFactors = [1.5] }, new NodeClass { Name = "node", Count = 11 }],
            Classes = [new JobClass { Name = "final" }],
            Jobs = [new FarmJob { Frames = 129_600, SecondsPerFrame = 0.8, OverheadSeconds = 45 }],
        };
        IReadOnlyList<SegmentLength> lengths = SegmentAdvice.Compare(farm, [10_800, 100, 500, 2_000], 1, 1);
        Assert.Equal([100L, 500, 2_000, 10_800], lengths.Select(l => l.Frames));
        Assert.Equal(2_000, SegmentAdvice.Best(lengths).Frames);
        Assert.Equal((65 * 45) / ((65 * 45) + (129_600 * 0.8)), lengths[2].OverheadShare, 1e-12);
        Assert.NotEmpty(SegmentAdvice.Compare(farm, [], 1, 1));
    }

    // A length that makes too many tasks is left out and not counted; whoever gives up at the first figure gets no second length.
    [Fact]
    public void Compare_Progress_CountsAllLengthsAndEndsWhenGivenUp()
    {
        FarmScenario farm = new()
        {
            Nodes = [new NodeClass { Name = "node", Count = 2 }],
            Classes = [new JobClass { Name = "final", TaskLogSd = 0.2 }],
            Jobs = [new FarmJob { Frames = 20_000_000, SecondsPerFrame = 0.001 }],
        };
        System.Collections.Concurrent.ConcurrentBag<(int Done, int Of)> figures = [];
        SegmentAdvice.Compare(farm, [1, 1_000_000, 2_000_000], 1, 10, (done, of) => figures.Add((done, of)));
        Assert.Equal(Enumerable.Range(1, 20).Select(done => (done, 20)), figures.Order());

        using CancellationTokenSource source = new();
        int most = 0;
        Assert.ThrowsAny<OperationCanceledException>(() => SegmentAdvice.Compare(
            farm, [1_000_000, 2_000_000], 1, 1_000, (done, _) =>
            {
                source.Cancel();
                InterlockedMax(ref most, done);
            },
            source.Token));
        Assert.InRange(most, 1, 1_000);
    }

    private static void InterlockedMax(ref int most, int value)
    {
        int seen = Volatile.Read(ref most);
        while (value > seen && Interlocked.CompareExchange(ref most, value, seen) is int now && now != seen)
        {
            seen = now;
        }
    }

    // Wilson's interval for 0 of 10 and 10 of 10 at 95 %: 0 to 0.2775 and 0.7225 to 1 (E. B. Wilson 1927, computed by its formula).
    [Theory]
    [InlineData(0, 0, 0.2775)]
    [InlineData(10, 0.7225, 1)]
    [InlineData(5, 0.2366, 0.7634)]
    public void Of_TenTrials_IsWilsonsInterval(int successes, double low, double high)
    {
        Likelihood likelihood = Likelihood.Of(successes, 10);
        Assert.Equal(low, likelihood.Low, 5e-5);
        Assert.Equal(high, likelihood.High, 5e-5);
    }

    // What is left of a task that has run is drawn from the times longer than that: never negative, and for an exponential-like
    // wide spread later than for a fresh task's share.
    [Fact]
    public void Run_TaskUnderWay_EndsAfterNow()
    {
        FarmScenario farm = Farm.Of(1, new FarmJob { Frames = 0, SecondsPerFrame = 1 }) with
        {
            Classes = [new JobClass { Name = "render", TaskLogSd = 0.5 }],
            Running = [new RunningTask(0, 0, 100, FarmClock.FromSeconds(150))],
        };
        double[] left = [.. Enumerable.Range(0, 2_000).Select(r => FarmClock.ToSeconds(FarmSimulation.Run(farm, 1, r).Finish!.Value)).Order()];
        Assert.True(left[0] >= 0);

        // Median of a log-normal of median 100 and log-sd 0.5 given more than 150: 100·exp(0.5·z) with upper tail half that of ln(1.5)/0.5.
        double z = -PostPipeline.Quantities.Randomness.NormalDistribution.Quantile(PostPipeline.Quantities.Randomness.NormalDistribution.UpperTail(Math.Log(1.5) / 0.5) / 2);
        Assert.Equal((100 * Math.Exp(0.5 * z)) - 150, left[1_000], 4.0);
    }
}
