using PostPipeline.Farms.Simulations;
using PostPipeline.Quantities;

namespace PostPipeline.Farms;

/// <summary>Runs many replications in parallel. The answer does not depend on how many threads there are.</summary>
public static class FarmReplications
{
    /// <summary>The most replications of one run.</summary>
    public const int Most = 100_000;

    // Finishes by job are kept up to this many numbers (160 MB); beyond, those of the first replications.
    private const long MostJobFinishes = 20_000_000;

    /// <summary>Runs replications 0 to <paramref name="replications"/> − 1.</summary>
    /// <param name="scenario">The farm and its work.</param>
    /// <param name="seed">Any seed; runs that differ in the scenario alone share it, and their differences are paired.</param>
    /// <param name="replications">1 to 100,000.</param>
    /// <param name="progress">Told how many are done, from any thread, at most a hundred times.</param>
    /// <param name="threads">At most so many at once; null for one a processor.</param>
    /// <param name="token">Ends the run early.</param>
    /// <exception cref="ArgumentException">The scenario cannot be; the message lists every problem.</exception>
    public static FarmForecast Run(
        FarmScenario scenario, long seed, int replications, Action<int>? progress = null, int? threads = null, CancellationToken token = default)
    {
        Guard.InRange(replications, 1, Most);
        FarmPlans plans = new(scenario, seed);
        int kept = (int)Math.Min(replications, Math.Max(1, MostJobFinishes / Math.Max(1, scenario.Jobs.Count)));
        ReplicationResult[] results = new ReplicationResult[replications];
        int step = Math.Max(1, replications / 100);
        int done = 0;
        ParallelOptions options = new() { MaxDegreeOfParallelism = threads ?? Environment.ProcessorCount, CancellationToken = token };
        Parallel.For(
            0,
            replications,
            options,
            () => new RunArrays(),
            (r, _, arrays) =>
            {
                ReplicationResult result = plans.Run(arrays, r, null, token);
                results[r] = r < kept ? result : result with { JobFinishes = [] };
                int now = Interlocked.Increment(ref done);
                if (progress is not null && now % step == 0)
                {
                    progress(now);
                }

                return arrays;
            },
            _ => { });
        return new(seed, results, scenario.Jobs.Count, kept);
    }
}
