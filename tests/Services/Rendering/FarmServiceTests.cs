using System.Diagnostics.CodeAnalysis;
using Grpc.Core;
using PostPipeline.Client;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Embedded;
using Xunit;

namespace PostPipeline.Services.Tests.Rendering;

/// <summary>The farm through the whole embedded suite.</summary>
[SuppressMessage("Design", "CA1001", Justification = "xunit calls DisposeAsync of IAsyncLifetime.")]
public sealed class FarmServiceTests : IAsyncLifetime
{
    private readonly EmbeddedSuite suite = new();

    public Task InitializeAsync() => Task.CompletedTask;

    public async Task DisposeAsync() => await suite.DisposeAsync();

    // Twelve nodes of which the first is 1.5 times slower; segments of 2,000 frames end at 9,870 s (worked example, common practice).
    [Fact]
    public async Task SimulateFarm_WorkedExample_EndsToTheSecond()
    {
        SimulateFarmRequest request = new() { Seed = 1, Replications = 3, Farm = new(), ReturnRecords = true, DueSeconds = 9_870 };
        request.Farm.NodeClasses.Add(new NodeClass { Label = "slow", Count = 1, Speed = 1 / 1.5 });
        request.Farm.NodeClasses.Add(new NodeClass { Label = "node", Count = 11 });
        request.Jobs.Add(new FarmJob { Label = "final", Frames = 129_600, SegmentFrames = 2_000, SecondsPerFrame = 0.8, OverheadSeconds = 45 });
        FarmResult result = await Simulate(request);
        Assert.Equal([9_870, 9_870, 9_870], result.FinishSeconds);
        Assert.Equal(65, result.Records.Count);
        Assert.Equal(65, result.Tasks);
        Assert.Equal(1, result.OnTime.Value);
        Assert.InRange(result.WorkBoundSeconds, 8_000, 9_870);
        Assert.Equal(1_645, result.LongestTaskBoundSeconds);
        Assert.Equal("final", Assert.Single(result.Jobs).Label);
        Assert.Equal(result, await Simulate(request));
    }

    [Fact]
    public async Task SimulateFarm_ManyReplications_ReportsProgress()
    {
        SimulateFarmRequest request = new() { Seed = 2, Replications = 200, Farm = new() { FailureProbability = 0.02 } };
        request.Farm.NodeClasses.Add(new NodeClass { Label = "node", Count = 4 });
        request.Jobs.Add(new FarmJob { Frames = 2_000, SegmentFrames = 10, SecondsPerFrame = 1, TaskLogStandardDeviation = 0.3 });
        int last = 0;
        int figures = 0;
        FarmResult? result = null;
        using AsyncServerStreamingCall<SimulateFarmResponse> call = suite.Clients.Farm.SimulateFarm(request);
        await foreach (SimulateFarmResponse part in call.ResponseStream.ReadAllAsync())
        {
            result = part.Result ?? result;
            if (part.Progress is FarmProgress progress)
            {
                Assert.InRange(progress.Done, last, 200);
                last = progress.Done;
                figures++;
            }
        }

        Assert.True(figures > 0);
        Assert.InRange(result!.FinishP50Seconds, result.FinishP10Seconds, result.FinishP90Seconds);
        Assert.InRange(result.FinishP50Seconds, result.FinishP50Interval.Low, result.FinishP50Interval.High);
    }

    [Fact]
    public async Task SimulateFarm_BadRequest_NamesEveryField()
    {
        SimulateFarmRequest request = new() { Replications = 0, Farm = new() { FailureProbability = 2 } };
        request.Farm.NodeClasses.Add(new NodeClass { Label = "node", Count = -4 });
        request.Jobs.Add(new FarmJob { Frames = -1, Licence = "unheard of", ReleaseSeconds = double.NaN });
        ServiceCallException refused = await Assert.ThrowsAsync<ServiceCallException>(() => Simulate(request));
        Assert.Equal(StatusCode.InvalidArgument, refused.StatusCode);
        string[] fields = [.. refused.Violations.Select(v => v.Field)];
        Assert.Superset(
            new HashSet<string> { "replications", "farm.failure_probability", "farm.node_classes[0].count", "jobs[0].frames", "jobs[0].licence", "jobs[0].release_seconds" },
            fields.ToHashSet());
    }

    [Fact]
    public async Task SimulateFarm_JobsInACircle_AreRefused()
    {
        SimulateFarmRequest request = new() { Replications = 1, Farm = new() };
        request.Farm.NodeClasses.Add(new NodeClass { Label = "node", Count = 1 });
        request.Jobs.Add(new FarmJob { Frames = 1, SecondsPerFrame = 1, After = { 1 } });
        request.Jobs.Add(new FarmJob { Frames = 1, SecondsPerFrame = 1, After = { 0 } });
        ServiceCallException refused = await Assert.ThrowsAsync<ServiceCallException>(() => Simulate(request));
        Assert.EndsWith(".after", Assert.Single(refused.Violations).Field, StringComparison.Ordinal);
    }

    [Fact]
    public async Task SimulateFarm_Cancelled_Ends()
    {
        SimulateFarmRequest request = new() { Replications = 100_000, Farm = new() };
        request.Farm.NodeClasses.Add(new NodeClass { Label = "node", Count = 1 });
        request.Jobs.Add(new FarmJob { Frames = 100_000, SegmentFrames = 1, SecondsPerFrame = 1, TaskLogStandardDeviation = 0.3 });
        using CancellationTokenSource source = new();
        using AsyncServerStreamingCall<SimulateFarmResponse> call = suite.Clients.Farm.SimulateFarm(request, cancellationToken: source.Token);
        source.CancelAfter(200);
        await Assert.ThrowsAnyAsync<Exception>(async () =>
        {
            await foreach (SimulateFarmResponse _ in call.ResponseStream.ReadAllAsync())
            {
            }
        });
    }

    // 40 equal tasks of 900 s in 3 h: 12 tasks a node fit, so 4 nodes (40 ÷ 12 = 3.33 by division); nothing is random.
    [Fact]
    public async Task SizeFarm_EqualTasks_FindsTheSmallest()
    {
        SizeFarmRequest request = new() { Seed = 1, Replications = 2, Farm = new(), DueSeconds = 10_800 };
        request.Farm.NodeClasses.Add(new NodeClass { Label = "node" });
        request.Jobs.Add(new FarmJob { Frames = 40, SegmentFrames = 1, SecondsPerFrame = 900 });
        SizeFarmResult? result = null;
        using AsyncServerStreamingCall<SizeFarmResponse> call = suite.Clients.Farm.SizeFarm(request);
        await foreach (SizeFarmResponse part in call.ResponseStream.ReadAllAsync())
        {
            result = part.Result ?? result;
        }

        Assert.Equal(4, result!.Nodes);
        Assert.Equal(40 / 12.0, result.NodesByDivision, 1e-9);
        Assert.Equal(double.PositiveInfinity, result.UsefulNodes);
        Assert.False(result.Anomaly);
        Assert.Equal(9_000, result.Sizes.Single(s => s.Nodes == 4).FinishP50Seconds);
        Assert.Equal(0, result.Sizes.Single(s => s.Nodes == 3).OnTime.Value);
    }

    // The four lengths of the worked example: 2,000 frames end first.
    [Fact]
    public async Task AdviseSegments_WorkedExample_TooFewAndTooManyAreLater()
    {
        AdviseSegmentsRequest request = new() { Replications = 1, Farm = new(), SegmentFrames = { 100, 500, 2_000, 10_800 } };
        request.Farm.NodeClasses.Add(new NodeClass { Label = "slow", Count = 1, Speed = 1 / 1.5 });
        request.Farm.NodeClasses.Add(new NodeClass { Label = "node", Count = 11 });
        request.Jobs.Add(new FarmJob { Frames = 129_600, SecondsPerFrame = 0.8, OverheadSeconds = 45 });
        AdviseSegmentsResponse response = await suite.Clients.Farm.AdviseSegmentsAsync(request);
        Assert.Equal([13_875.0, 10_320, 9_870, 13_005], response.Lengths.Select(l => l.FinishP50Seconds));
        Assert.Equal(2_000, response.BestSegmentFrames);
        Assert.Equal(45 / (45 + 80.0), response.Lengths[0].OverheadShare, 1e-9);
    }

    // Two nodes, each half way through a task of 100 s, four more tasks waiting (by hand: 50, then 150, then 250).
    [Fact]
    public async Task ForecastTonight_HandMadeNight_SaysWhatAChangeDoes()
    {
        ForecastTonightRequest request = new() { Replications = 4, Farm = new(), DueSeconds = { 150, 200 } };
        request.Farm.NodeClasses.Add(new NodeClass { Label = "node", Count = 2 });
        request.Jobs.Add(new FarmJob { Label = "first", Frames = 20, SegmentFrames = 10, SecondsPerFrame = 10 });
        request.Jobs.Add(new FarmJob { Label = "second", Frames = 20, SegmentFrames = 10, SecondsPerFrame = 10 });
        request.Running.Add(new RunningTask { Job = 0, Node = 0, Frames = 10, ElapsedSeconds = 50 });
        request.Running.Add(new RunningTask { Job = 0, Node = 1, Frames = 10, ElapsedSeconds = 50 });
        request.Changes.Add(new NightChange { Label = "second first", Raise = new() { Job = 1, Priority = 10 } });
        request.Changes.Add(new NightChange { Label = "hold first", Hold = new() { Job = 0, UntilSeconds = 1_000 } });
        request.Changes.Add(new NightChange { Label = "one out", Maintenance = new() { NodeClass = "node", Nodes = 1, Window = new() { FromSeconds = 0, UntilSeconds = 5_000 } } });
        ForecastTonightResponse night = await suite.Clients.Farm.ForecastTonightAsync(request);

        // 40 waiting frames of 10 s on two nodes: 200 s; the longest task 100 s; on one node 400 s.
        Assert.Equal((200, 100), (night.Forecasts[0].WorkBoundSeconds, night.Forecasts[0].LongestTaskBoundSeconds));
        Assert.Equal(400, night.Forecasts[3].WorkBoundSeconds);
        Assert.Equal([150.0, 250], night.Forecasts[0].Jobs.Select(j => j.FinishP50Seconds));
        Assert.Equal([false, true], night.Forecasts[0].Jobs.Select(j => j.WillMiss));
        Assert.Equal([250.0, 150], night.Forecasts[1].Jobs.Select(j => j.FinishP50Seconds));
        Assert.Equal([100.0, -100], night.Forecasts[1].Jobs.Select(j => j.LaterSeconds));
        Assert.Equal([1_100.0, 150], night.Forecasts[2].Jobs.Select(j => j.FinishP50Seconds));

        // Node 1 pauses at once and keeps its task for good; node 0 does the four waiting tasks: 150, 250, 350, 450.
        Assert.Equal(450, night.Forecasts[3].Jobs[1].FinishP50Seconds);
        Assert.Empty(night.Stuck);
    }

    [Fact]
    public async Task ForecastTonight_TaskFarBeyondItsLike_IsNamedAndStartedAgain()
    {
        ForecastTonightRequest request = new() { Replications = 200, Seed = 3, Farm = new() };
        request.Farm.NodeClasses.Add(new NodeClass { Label = "node", Count = 2 });
        request.Farm.Attended.Add(new Contracts.Types.V1.Window { FromSeconds = 3_600, UntilSeconds = 36_000 });
        request.Jobs.Add(new FarmJob { Label = "pull", Frames = 0, SecondsPerFrame = 1, TaskLogStandardDeviation = 0.1 });
        request.Running.Add(new RunningTask { Job = 0, Node = 0, Frames = 100, ElapsedSeconds = 105 });
        request.Running.Add(new RunningTask { Job = 0, Node = 1, Frames = 100, ElapsedSeconds = 1_000 });
        ForecastTonightResponse night = await suite.Clients.Farm.ForecastTonightAsync(request);
        StuckTask stuck = Assert.Single(night.Stuck);
        Assert.Equal((1, "pull", 100.0), (stuck.Running, stuck.Job, stuck.ExpectedSeconds));
        Assert.True(stuck.Chance < 1e-6);
        Assert.InRange(night.Forecasts[0].Jobs[0].FinishP50Seconds, 3_690, 3_710);
    }

    private async Task<FarmResult> Simulate(SimulateFarmRequest request)
    {
        FarmResult? result = null;
        using AsyncServerStreamingCall<SimulateFarmResponse> call = suite.Clients.Farm.SimulateFarm(request);
        await foreach (SimulateFarmResponse part in call.ResponseStream.ReadAllAsync())
        {
            result = part.Result ?? result;
        }

        return result!;
    }
}
