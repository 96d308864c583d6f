using PostPipeline.Farms;
using PostPipeline.Flows;
using Xunit;

namespace PostPipeline.Domain.Tests.Farms;

// Derived examples: each number can be followed by hand.
public class RulesTests
{
    [Theory]
    [InlineData(ClosingRule.Finish, 160)] // 0–60, then 100–160
    [InlineData(ClosingRule.Pause, 180)] // 40 s done, 20 s from 100, then 60 s
    [InlineData(ClosingRule.Abandon, 220)] // lost at 40, 100–160, 160–220
    public void Run_WindowCloses_RuleDecides(ClosingRule rule, double expected)
    {
        FarmScenario scenario = Farm.Of(1, new FarmJob { Frames = 2, SegmentFrames = 1, SecondsPerFrame = 60 }) with
        {
            Nodes = [new NodeClass { Name = "night", Count = 1, Open = Farm.Seconds((0, 40), (100, 1000)) }],
            Closing = rule,
        };
        Assert.Equal(expected, Farm.FinishSeconds(scenario));
        Assert.Equal(rule == ClosingRule.Abandon ? 1 : 0, FarmSimulation.Run(scenario).Lost);
    }

    [Fact]
    public void Run_TaskEndsAsItsWindowCloses_IsDone()
    {
        FarmScenario scenario = Farm.Of(1, Farm.Task(40)) with
        {
            Nodes = [new NodeClass { Name = "night", Count = 1, Open = Farm.Seconds((0, 40)) }],
            Closing = ClosingRule.Abandon,
        };
        Assert.Equal(40, Farm.FinishSeconds(scenario));
    }

    // 100 MB at 10 MB/s: 4 s before the close, 6 s after the opening.
    [Fact]
    public void Run_PausedTransfer_KeepsWhatItMoved()
    {
        FarmScenario scenario = new()
        {
            Nodes = [new NodeClass { Name = "night", Count = 1, Open = Farm.Seconds((0, 4), (100, 1000)) }],
            Classes = [new JobClass { Name = "copy", Storage = 0 }],
            Storage = [new StoragePool("array", 10e6)],
            Jobs = [new FarmJob { Frames = 1, SecondsPerFrame = 0, ReadBytesPerFrame = 100_000_000 }],
            Closing = ClosingRule.Pause,
        };
        Assert.Equal(106, Farm.FinishSeconds(scenario), 1e-5);
    }

    [Fact]
    public void Run_WindowsTooShort_DoesNotFinish()
    {
        FarmScenario scenario = Farm.Of(1, Farm.Task(50)) with
        {
            Nodes = [new NodeClass { Name = "night", Count = 1, Open = Farm.Seconds((0, 40)) }],
            Closing = ClosingRule.Pause,
        };
        ReplicationResult result = FarmSimulation.Run(scenario);
        Assert.Null(result.Finish);
        Assert.Equal([-1L], result.JobFinishes);
    }

    // Strict: the urgent job's two tasks first. One node, 10 s each.
    [Fact]
    public void Run_StrictPriority_UrgentGoesFirst()
    {
        FarmScenario scenario = Farm.Of(
            1,
            new FarmJob { Frames = 2, SegmentFrames = 1, SecondsPerFrame = 10 },
            new FarmJob { Frames = 2, SegmentFrames = 1, SecondsPerFrame = 10, Priority = 5, ReleaseMicroseconds = FarmClock.FromSeconds(5) });
        Assert.Equal([40_000_000, 30_000_000], FarmSimulation.Run(scenario).JobFinishes);
    }

    // Four nodes, weights 3 and 1, tasks of 10 s: three run for one project and one for the other in every wave.
    [Fact]
    public void Run_FairShare_FollowsTheWeights()
    {
        FarmScenario scenario = Farm.Of(
            4,
            new FarmJob { Frames = 30, SegmentFrames = 1, SecondsPerFrame = 10, Project = 0 },
            new FarmJob { Frames = 10, SegmentFrames = 1, SecondsPerFrame = 10, Project = 1 }) with
        {
            Projects = [new FarmProject("a", 3), new FarmProject("b", 1)],
            Sharing = SharingRule.Fair,
        };
        foreach (var wave in Farm.Records(scenario).GroupBy(r => r.Start))
        {
            Assert.Equal(3, wave.Count(r => r.Job == 0));
        }
    }

    // 100 frames in segments of 40 with 5 frames of pre-roll: 40, 45, 25 frames; overhead 2 s each; then a join of 100 × 0.1 s + 2 s.
    [Fact]
    public void Run_PreRollAndJoin_CostWhatTheySay()
    {
        FarmScenario scenario = Farm.Of(1, new FarmJob
        {
            Frames = 100,
            SegmentFrames = 40,
            PreRollFrames = 5,
            SecondsPerFrame = 1,
            OverheadSeconds = 2,
            JoinSecondsPerFrame = 0.1,
        });
        List<TaskRecord> records = Farm.Records(scenario);
        Assert.Equal([42.0, 47.0, 27.0, 12.0], records.Select(r => FarmClock.ToSeconds(r.End - r.Start)));
        Assert.Equal(128, Farm.FinishSeconds(scenario));
    }

    // A broken task fails its three attempts, waits until somebody looks at 08:00 (28,800 s), is mended for 600 s, and runs.
    [Fact]
    public void Run_BrokenTask_WaitsUntilSomeoneLooks()
    {
        FarmScenario scenario = Farm.Of(2, new FarmJob { Frames = 1, SecondsPerFrame = 100 }, Farm.Task(1000)) with
        {
            Classes = [new JobClass { Name = "render", BrokenProbability = 1 }],
            Attended = Farm.Seconds((28_800, 64_800)),
            MendMicroseconds = FarmClock.FromSeconds(600),
        };
        ReplicationResult result = FarmSimulation.Run(scenario);
        Assert.Equal([29_500_000_000, 30_400_000_000], result.JobFinishes);
        Assert.Equal(2, result.SetAside);
        Assert.Equal(6, result.Failures);
        FarmScenario alone = scenario with { Attended = Windows.Never };
        Assert.Null(FarmSimulation.Run(alone).Finish);
    }

    // A farm that stops in the night loses what ran, and starts again when somebody looks at 100 s.
    [Fact]
    public void Run_NightFailure_WaitsUntilSomeoneLooks()
    {
        FarmScenario scenario = Farm.Of(3, Farm.Task(60), Farm.Task(60), Farm.Task(60)) with
        {
            NightFailure = new(Farm.Seconds((0, 50)), 1),
            Attended = Farm.Seconds((100, 1000)),
        };
        ReplicationResult result = FarmSimulation.Run(scenario);
        Assert.Equal(160, FarmClock.ToSeconds(result.Finish!.Value));
        Assert.Equal(3, result.Lost);
    }

    // Two nodes, one of them three times slower; the last task on the slow one would end at 30 s, its copy ends at 20 s.
    [Fact]
    public void Run_DuplicateTail_CopyThatEndsFirstCounts()
    {
        FarmScenario scenario = Farm.Of(0, Farm.Task(10), Farm.Task(10)) with
        {
            Nodes = [new NodeClass { Name = "node", Count = 1 }, new NodeClass { Name = "slow", Count = 1, TimeFactors = [3] }],
        };
        Assert.Equal(30, Farm.FinishSeconds(scenario));
        ReplicationResult copied = FarmSimulation.Run(scenario with { DuplicateTail = true });
        Assert.Equal(20, FarmClock.ToSeconds(copied.Finish!.Value));
        Assert.Equal((1, 2), (copied.Dropped, copied.TasksDone));
        Assert.Equal(20, FarmClock.ToSeconds(copied.WastedMicroseconds));
    }

    // Six of twelve nodes out from 0 to 100 s: 12 tasks of 10 s take two waves instead of one.
    [Fact]
    public void Run_Maintenance_TakesTheLastNodesOfTheClass()
    {
        FarmScenario scenario = Farm.Of(12, new FarmJob { Frames = 12, SegmentFrames = 1, SecondsPerFrame = 10 }) with
        {
            Maintenance = [new(0, 6, 0, FarmClock.FromSeconds(100))],
        };
        Assert.Equal(20, Farm.FinishSeconds(scenario));
        Assert.All(Farm.Records(scenario), r => Assert.InRange(r.Node, 0, 5));
    }

    // With overlap o a task of c seconds and m seconds of moving alone takes max(c, o·m) + (1 − o)·m.
    [Theory]
    [InlineData(1.0, 30)]
    [InlineData(0.0, 50)]
    [InlineData(0.5, 40)]
    public void Run_Overlap_LiesBetweenLongerAndSum(double overlap, double seconds)
    {
        FarmScenario scenario = new()
        {
            Nodes = [new NodeClass { Name = "node", Count = 1 }],
            Classes = [new JobClass { Name = "render", Storage = 0, Overlap = overlap }],
            Storage = [new StoragePool("array", 1e6)],
            Jobs = [new FarmJob { Frames = 1, SecondsPerFrame = 30, ReadBytesPerFrame = 15_000_000, WriteBytesPerFrame = 5_000_000 }],
        };
        Assert.Equal(seconds, Farm.FinishSeconds(scenario), 1e-5);
    }

    // Three transfers of 10, 20 and 30 MB from 6 MB/s: rates 2, then 3, then 6 MB/s (link 3 MB/s: 2, 3, 3).
    [Theory]
    [InlineData(null, 10.0)]
    [InlineData(3e6, 11.666667)]
    public void Run_ProcessorSharing_FollowsTheFluidByHand(double? link, double last)
    {
        FarmScenario scenario = new()
        {
            Nodes = [new NodeClass { Name = "node", Count = 3 }],
            Classes = [new JobClass { Name = "copy", Storage = 0 }],
            Storage = [new StoragePool("array", 6e6, link)],
            Jobs = [.. new long[] { 10, 20, 30 }.Select(m => new FarmJob { Frames = 1, SecondsPerFrame = 0, WriteBytesPerFrame = m * 1_000_000 })],
        };
        double[] ends = [.. FarmSimulation.Run(scenario).JobFinishes.Select(FarmClock.ToSeconds)];
        Assert.Equal(5, ends[0], 1e-5);
        Assert.Equal(5 + (10 / 3.0), ends[1], 1e-5);
        Assert.Equal(last, ends[2], 1e-5);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    public void Run_NothingToDo_FinishesAtOnce(int jobs)
    {
        FarmScenario scenario = Farm.Of(1, [.. Enumerable.Repeat(new FarmJob { Frames = 0, SecondsPerFrame = 1 }, jobs)]);
        Assert.Equal(0, FarmSimulation.Run(scenario).Finish);
    }

    [Fact]
    public void Run_NoNodes_DoesNotFinish() => Assert.Null(FarmSimulation.Run(Farm.Of(0, Farm.Task(1))).Finish);

    [Fact]
    public void Run_Cancelled_Stops()
    {
        using CancellationTokenSource source = new();
        source.Cancel();
        Assert.ThrowsAny<OperationCanceledException>(() => FarmReplications.Run(Farm.Of(1, Farm.Task(1)), 0, 10, null, null, source.Token));
    }

    // Two windows of the same two nodes, and maintenance inside the second: work waits for each opening. 3 tasks of 40 s on
    // one node: 0–40 fits the first window (0–60), the second task would not end in it and pauses.
    [Fact]
    public void Run_NightsAndMaintenance_WorkOnlyInsideThem()
    {
        FarmScenario scenario = Farm.Of(1, new FarmJob { Frames = 3, SegmentFrames = 1, SecondsPerFrame = 40 }) with
        {
            Nodes = [new NodeClass { Name = "night", Count = 1, Open = Farm.Seconds((0, 60), (100, 160), (200, 300)) }],
            Closing = ClosingRule.Pause,
            Maintenance = [new(0, 1, FarmClock.FromSeconds(130), FarmClock.FromSeconds(150))],
        };

        // 0–40, 40–60 and 100–120, 120–130 and 150–160 and 200–220.
        Assert.Equal([40.0, 120, 220], Farm.Records(scenario).OrderBy(r => r.End).Select(r => FarmClock.ToSeconds(r.End)));
    }
}
