using PostPipeline.Quantities.Randomness;

namespace PostPipeline.Farms.Simulations;

/// <summary>A checked scenario, laid out once where every replication is alike, and anew where competing work is drawn.</summary>
internal sealed class FarmPlans
{
    private readonly FarmScenario scenario;
    private readonly long seed;
    private readonly FarmPlan plan;
    private readonly bool sharesNothing;

    public FarmPlans(FarmScenario scenario, long seed)
    {
        IReadOnlyList<FarmProblem> problems = scenario.Problems();
        if (problems.Count > 0)
        {
            throw new ArgumentException(string.Join("; ", problems.Select(p => $"{p.Path}: {p.Message}")), nameof(scenario));
        }

        this.scenario = scenario;
        this.seed = seed;
        plan = new(scenario);
        sharesNothing = ListRun.Fits(plan);
    }

    /// <summary>Runs one replication on arrays of its own.</summary>
    public ReplicationResult Run(int replication, ITaskRecorder? recorder, CancellationToken token) =>
        Run(new RunArrays(), replication, recorder, token);

    /// <summary>Runs one replication on arrays that the caller keeps for the next.</summary>
    public ReplicationResult Run(RunArrays arrays, int replication, ITaskRecorder? recorder, CancellationToken token)
    {
        if (scenario.Competing.Count > 0)
        {
            return new FarmRun(new FarmPlan(scenario, [.. scenario.Jobs, .. Competing(replication)])).Run(seed, replication, recorder, token);
        }

        if (sharesNothing)
        {
            arrays.List ??= new(plan);
            if (arrays.List.Run(seed, replication, recorder, token) is ReplicationResult result)
            {
                return result;
            }
        }

        return RunEvents(arrays, replication, recorder, token);
    }

    /// <summary>Runs one replication event by event, whatever the farm.</summary>
    public ReplicationResult RunEvents(RunArrays arrays, int replication, ITaskRecorder? recorder, CancellationToken token)
    {
        arrays.Events ??= new(plan);
        return arrays.Events.Run(seed, replication, recorder, token);
    }

    private IEnumerable<FarmJob> Competing(int replication)
    {
        for (int i = 0; i < scenario.Competing.Count; i++)
        {
            CompetingLoad load = scenario.Competing[i];
            RandomStream arrivals = new(seed, RandomPurpose.Arrivals, replication, i);
            double sigma = Math.Sqrt(Math.Log(1 + load.SquaredVariation));
            double meanGap = 3600e6 / load.JobsPerHour;
            double at = load.FromMicroseconds;
            while (true)
            {
                at += arrivals.NextExponential(meanGap);
                double seconds = load.MeanSeconds * Math.Exp((sigma * arrivals.NextNormal()) - (sigma * sigma / 2));
                if (at >= load.UntilMicroseconds)
                {
                    break;
                }

                yield return new FarmJob
                {
                    Name = "competing work",
                    Class = load.Class,
                    Project = load.Project,
                    Priority = load.Priority,
                    ReleaseMicroseconds = (long)at,
                    Frames = 1,
                    SecondsPerFrame = seconds,
                };
            }
        }
    }
}
