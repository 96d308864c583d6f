using Grpc.Core;
using PostPipeline.Client;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Notebooks.Charts;
using PostPipeline.Notebooks.Rendering;

namespace PostPipeline.Notebooks.Lessons;

/// <summary>
/// The node that storage makes useless: a pull of frame sequences, 4.424 MB read and 53.084 MB written a frame at half a
/// second on one node, simulated with every count of nodes on storage that all of them share.
/// </summary>
public sealed class CeilingLesson
{
    private const double SecondsPerFrame = 0.5;
    private const long ReadBytes = 4_424_000;
    private const long WriteBytes = 53_084_000;
    private const int SegmentFrames = 100;
    private const int SegmentsPerNode = 40;

    private readonly double storage;

    private CeilingLesson(double megabytesPerSecond, IReadOnlyList<(int Nodes, double Worth)> worths)
    {
        storage = megabytesPerSecond;
        Worths = worths;
    }

    /// <summary>For each count of nodes, how many nodes with storage of their own would end as early.</summary>
    public IReadOnlyList<(int Nodes, double Worth)> Worths { get; }

    /// <summary>Nodes that the storage can keep busy, unrounded.</summary>
    public double Useful => storage * 1e6 / ((ReadBytes + WriteBytes) / SecondsPerFrame);

    /// <summary>The answer.</summary>
    public Markdown Answer => new(
        $"One node moves {Say.Number((ReadBytes + WriteBytes) / SecondsPerFrame / 1e6)} MB/s, read and written. Storage that leaves {Say.Number(storage)} MB/s keeps **{Say.Number(Useful)}** nodes busy: "
        + $"**{Math.Floor(Useful)} are useful**, the next adds {Say.Number(Useful - Math.Floor(Useful))} of a node, and every one after it nothing.");

    /// <summary>What nodes are worth over their number.</summary>
    public Figure Chart => Charts.Chart.Band(
        "After the ceiling a node adds heat, not work",
        new("Nodes", "count"),
        new("Worth as much as", "nodes that share nothing"),
        [new("simulated on shared storage", [.. Worths.Select(w => new BandPoint(w.Nodes, w.Worth))]), new("on storage that does not limit", [.. Worths.Select(w => new BandPoint(w.Nodes, w.Nodes))])],
        [new(Useful, $"storage: {Say.Number(Useful)} nodes")]);

    /// <summary>Simulates each count of nodes.</summary>
    /// <param name="megabytesPerSecond">What seats leave of the storage, MB/s.</param>
    /// <param name="nodes">The counts.</param>
    public static async Task<CeilingLesson> AskAsync(double megabytesPerSecond, IReadOnlyList<int> nodes)
    {
        SuiteClients suite = await Suite.ClientsAsync().ConfigureAwait(false);
        List<(int, double)> worths = [];
        foreach (int count in nodes)
        {
            long frames = (long)SegmentFrames * SegmentsPerNode * count;
            SimulateFarmRequest request = new() { Seed = 1, Replications = 1, Farm = new() { StorageBytesPerSecond = megabytesPerSecond * 1e6 } };
            request.Farm.NodeClasses.Add(new NodeClass { Label = "node", Count = count });
            request.Jobs.Add(new FarmJob { Frames = frames, SegmentFrames = SegmentFrames, SecondsPerFrame = SecondsPerFrame, ReadBytesPerFrame = ReadBytes, WriteBytesPerFrame = WriteBytes });
            using AsyncServerStreamingCall<SimulateFarmResponse> call = suite.Farm.SimulateFarm(request, cancellationToken: Output.Stop);
            await foreach (SimulateFarmResponse part in call.ResponseStream.ReadAllAsync(Output.Stop).ConfigureAwait(false))
            {
                if (part.Result is { } result)
                {
                    worths.Add((count, frames * SecondsPerFrame / result.FinishP50Seconds));
                }
            }
        }

        return new(megabytesPerSecond, worths);
    }
}
