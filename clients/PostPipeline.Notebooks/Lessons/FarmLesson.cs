using Grpc.Core;
using PostPipeline.Client;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Notebooks.Charts;
using PostPipeline.Notebooks.Rendering;

namespace PostPipeline.Notebooks.Lessons;

/// <summary>How many nodes a night's work needs, and how it is best cut into tasks. The numbers come from the farm's simulation.</summary>
/// <param name="work">The night.</param>
public sealed class FarmLesson(FarmNight work)
{
    private const int Replications = 200;

    private SizeFarmResult? sized;

    /// <summary>Asks for the smallest farm that ends in time with the probability asked for.</summary>
    public async Task<FarmLesson> SizeAsync()
    {
        SuiteClients suite = await Suite.ClientsAsync().ConfigureAwait(false);
        SizeFarmRequest request = new() { Seed = work.Seed, Replications = Replications, Farm = Farm(1), NodeClass = "node", DueSeconds = work.WindowHours * 3600, Probability = work.Confidence, MostNodes = 200 };
        request.Jobs.Add(Job(work.SegmentFrames));
        using AsyncServerStreamingCall<SizeFarmResponse> call = suite.Farm.SizeFarm(request, cancellationToken: Output.Stop);
        await foreach (SizeFarmResponse part in call.ResponseStream.ReadAllAsync(Output.Stop).ConfigureAwait(false))
        {
            sized = part.Result ?? sized;
        }

        return this;
    }

    /// <summary>The answer: by division, and honestly.</summary>
    public Markdown Answer => new($"By division **{Say.Number(Sized.NodesByDivision)}** nodes; so that the night ends in time with {Say.Probability(work.Confidence)}, **{(Sized.HasNodes ? Sized.Nodes.ToString(System.Globalization.CultureInfo.InvariantCulture) : "more than 200")}** nodes. {(Sized.Decided ? "The simulation decides it." : "The simulation leaves it open within its noise.")} {(Sized.Limit.Length > 0 ? $"What limits it: {Sized.Limit}." : string.Empty)}");

    /// <summary>P(in time) over the number of nodes.</summary>
    public Figure Sizes => Chart.Band(
        "How sure is each size of farm?",
        new("Nodes", "count"),
        new("P(done in the window)", "%"),
        [new("simulated", [.. Sized.Sizes.OrderBy(s => s.Nodes).Select(s => new BandPoint(s.Nodes, s.OnTime.Value * 100, s.OnTime.Low * 100, s.OnTime.High * 100))])],
        [new(work.Confidence * 100, $"asked for: {Say.Probability(work.Confidence)}")],
        [new(Math.Ceiling(Sized.NodesByDivision), $"by division: {Math.Ceiling(Sized.NodesByDivision)}")]);

    /// <summary>The finish over the length of a task.</summary>
    /// <param name="lengths">Frames a task.</param>
    public async Task<Figure> SegmentsAsync(IReadOnlyList<long> lengths)
    {
        SuiteClients suite = await Suite.ClientsAsync().ConfigureAwait(false);
        AdviseSegmentsRequest request = new() { Seed = work.Seed, Replications = 50, Farm = Farm(Sized.HasNodes ? Sized.Nodes : 200) };
        request.Jobs.Add(Job(work.SegmentFrames));
        request.SegmentFrames.AddRange(lengths);
        AdviseSegmentsResponse answer = await suite.Farm.AdviseSegmentsAsync(request, cancellationToken: Output.Stop).ResponseAsync.ConfigureAwait(false);
        return Chart.Bars(
            "Too few tasks leave nodes idle, too many pay their overhead",
            new("Finish, P50 with P90 as whisker", "h"),
            [.. answer.Lengths.Select(l => new BarRow($"{l.SegmentFrames:N0} frames a task, {Say.Number(l.TasksPerNode)} tasks a node", "finish", l.FinishP50Seconds / 3600, l.FinishP50Seconds / 3600, l.FinishP90Seconds / 3600))],
            [new(work.WindowHours, $"window {Say.Number(work.WindowHours)} h")]);
    }

    /// <summary>One night on that farm, task by task: one replication, of which at most the first 12 nodes are shown.</summary>
    public async Task<Figure> NightAsync()
    {
        const int ShownNodes = 12;
        int nodes = Sized.HasNodes ? Sized.Nodes : 200;
        SuiteClients suite = await Suite.ClientsAsync().ConfigureAwait(false);
        SimulateFarmRequest request = new() { Seed = work.Seed, Replications = 1, Farm = Farm(nodes), ReturnRecords = true };
        request.Jobs.Add(Job(Math.Max(work.SegmentFrames, work.Frames / 5_000)));
        FarmResult? night = null;
        using AsyncServerStreamingCall<SimulateFarmResponse> call = suite.Farm.SimulateFarm(request, cancellationToken: Output.Stop);
        await foreach (SimulateFarmResponse part in call.ResponseStream.ReadAllAsync(Output.Stop).ConfigureAwait(false))
        {
            night = part.Result ?? night;
        }

        FarmResult done = night ?? throw new InvalidOperationException("the simulation gave no result");
        LaneBar[] bars = [.. done.Records.Where(r => r.Node < ShownNodes).OrderBy(r => r.Node).ThenBy(r => r.StartSeconds)
            .Select(r => new LaneBar($"node {r.Node + 1}", r.Failed ? "fails, is done again" : "works", r.StartSeconds / 3600, r.EndSeconds / 3600))];
        double last = done.Records.Count == 0 ? 0 : done.Records.Max(r => r.EndSeconds) / 3600;
        return Chart.Lanes(
            "One night of that farm, task by task",
            "h",
            bars,
            $"{done.Records.Count(r => r.Failed)} of {done.Records.Count} attempts fail; the last task ends after {Say.Number(last)} h. {(nodes > ShownNodes ? $"The first {ShownNodes} of {nodes} nodes are shown." : $"All {nodes} nodes are shown.")} Another seed is another night.",
            [new(work.WindowHours, $"window {Say.Number(work.WindowHours)} h")]);
    }

    private SizeFarmResult Sized => sized ?? throw new InvalidOperationException("ask for a size first");

    private Farm Farm(int nodes)
    {
        Farm farm = new() { FailureProbability = work.FailureProbability, MostAttempts = 3, StorageBytesPerSecond = work.StorageMegabytesPerSecond * 1e6 };
        farm.NodeClasses.Add(new NodeClass { Label = "node", Count = nodes, Speed = 1, SlowProbability = 0.05, SlowFactorLow = 1.3, SlowFactorHigh = 2 });
        return farm;
    }

    private FarmJob Job(long segment) => new()
    {
        Label = "the day's frames",
        JobClass = "convert",
        Frames = work.Frames,
        SecondsPerFrame = work.SecondsPerFrame,
        SharedLogStandardDeviation = work.Uncertainty,
        TaskLogStandardDeviation = 0.1,
        SegmentFrames = segment,
        OverheadSeconds = work.OverheadSeconds,
        ReadBytesPerFrame = (long)Math.Round(work.MovedMegabytesPerFrame * 1e6),
    };
}
