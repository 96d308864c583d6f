using PostPipeline.Farms;
using Xunit;

namespace PostPipeline.Domain.Tests.Farms;

/// <summary>Slow nodes and common random numbers: what a run draws, and that a change of the farm leaves it alone.</summary>
public class LuckTests
{
    // Every node slow by exactly 2: frames take twice as long, the overhead does not. 10 · 2 + 5 = 25 s.
    [Fact]
    public void Run_SlowNode_TakesLongerForItsFramesOnly()
    {
        FarmScenario scenario = Farm.Of(1, new FarmJob { Frames = 10, SecondsPerFrame = 1, OverheadSeconds = 5 }) with
        {
            Nodes = [new NodeClass { Name = "node", Count = 1, SlowProbability = 1, SlowFactorLow = 2, SlowFactorHigh = 2 }],
        };
        Assert.Equal(25, Farm.FinishSeconds(scenario));
    }

    // A third of the nodes slow, by 1.5 to 2.5: of many runs as many, by as much; and a node is slow for the whole run.
    [Fact]
    public void Run_SlowNodes_AreAsManyAndAsSlowAsAsked()
    {
        FarmScenario scenario = Farm.Of(3, new FarmJob { Frames = 12, SegmentFrames = 1, SecondsPerFrame = 100 }) with
        {
            Nodes = [new NodeClass { Name = "node", Count = 3, SlowProbability = 1 / 3.0, SlowFactorLow = 1.5, SlowFactorHigh = 2.5 }],
        };
        List<double> slow = [];
        const int Runs = 1_000;
        for (int run = 0; run < Runs; run++)
        {
            foreach (var node in Farm.Records(scenario, 5, run).GroupBy(r => r.Node))
            {
                double[] factors = [.. node.Select(r => FarmClock.ToSeconds(r.End - r.Start) / 100).Distinct()];
                double factor = Assert.Single(factors);
                if (factor > 1)
                {
                    slow.Add(factor);
                }
            }
        }

        // Four standard errors of a binomial share, and of the mean of a uniform factor.
        Assert.InRange(slow.Count / (3.0 * Runs), (1 / 3.0) - 0.035, (1 / 3.0) + 0.035);
        Assert.All(slow, f => Assert.InRange(f, 1.5 - 1e-6, 2.5 + 1e-6));
        Assert.Equal(2, slow.Average(), 4 * 0.289 / Math.Sqrt(slow.Count));
    }

    // Common random numbers: one more node changes where tasks run and when, not how long an attempt takes nor which fail.
    [Fact]
    public void Run_OneMoreNode_TasksMeetTheSameLuck()
    {
        FarmScenario few = Farm.Of(4, new FarmJob { Frames = 300, SegmentFrames = 3, SecondsPerFrame = 10, OverheadSeconds = 2 }) with
        {
            Classes = [new JobClass { Name = "render", FailureProbability = 0.1, TaskLogSd = 0.4, SharedLogSd = 0.2 }],
        };
        FarmScenario more = few with { Nodes = [few.Nodes[0] with { Count = 5 }] };
        Dictionary<(int, int, int), (long, TaskOutcome)> Luck(FarmScenario farm) =>
            Farm.Records(farm, 9, 3).ToDictionary(r => (r.Job, r.Segment, r.Attempt), r => (r.End - r.Start, r.Outcome));
        Assert.Equal(Luck(few).OrderBy(l => l.Key), Luck(more).OrderBy(l => l.Key));
        Assert.Contains(Luck(few).Values, v => v.Item2 == TaskOutcome.Failed);
    }
}
