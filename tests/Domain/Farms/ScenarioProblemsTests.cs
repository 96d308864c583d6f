using PostPipeline.Farms;
using Xunit;

namespace PostPipeline.Domain.Tests.Farms;

/// <summary>Everything that is wrong with a scenario is named.</summary>
public class ScenarioProblemsTests
{
    [Fact]
    public void Problems_ManyThings_AllAreNamed()
    {
        FarmScenario scenario = new()
        {
            Nodes = [new NodeClass { Name = "n", Count = -1, TimeFactors = [1, 2] }],
            Classes = [new JobClass { Name = "c", Licence = 3, FailureProbability = 1 }],
            Jobs = [new FarmJob { Frames = -1, SecondsPerFrame = double.NaN, After = [0] }],
        };
        string[] paths = [.. scenario.Problems().Select(p => p.Path)];
        Assert.Superset(
            new HashSet<string> { "nodes[0].count", "nodes[0].time_factors", "classes[0].licence", "classes[0].failure_probability", "jobs[0].frames", "jobs[0].seconds_per_frame", "jobs[0].after[0]" },
            paths.ToHashSet());
        Assert.Throws<ArgumentException>(() => FarmSimulation.Run(scenario));
    }

    [Fact]
    public void Problems_JobsInACircle_AreRefused() =>
        Assert.Contains(Farm.Of(1, Farm.Task(1, 1), Farm.Task(1, 0)).Problems(), p => p.Message.Contains("circle", StringComparison.Ordinal));
}
