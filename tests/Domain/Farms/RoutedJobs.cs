using PostPipeline.Farms;

namespace PostPipeline.Domain.Tests.Farms;

/// <summary>Collects jobs that visit stations one after the other: every station is a job class that one node class alone can run.</summary>
internal sealed class RoutedJobs
{
    private readonly List<FarmJob> jobs = [];

    public int Count => jobs.Count;

    public int Add(int station, double seconds, int after, long release = 0)
    {
        jobs.Add(new FarmJob { Class = station, Frames = 1, SecondsPerFrame = seconds, ReleaseMicroseconds = release, After = after < 0 ? [] : [after] });
        return jobs.Count - 1;
    }

    public FarmScenario Scenario(params int[] servers) => new()
    {
        Nodes = [.. servers.Select((count, s) => new NodeClass { Name = $"{s}", Count = count, TimeFactors = [.. servers.Select((_, k) => k == s ? 1.0 : 0)] })],
        Classes = [.. servers.Select((_, s) => new JobClass { Name = $"{s}" })],
        Jobs = jobs,
    };
}
