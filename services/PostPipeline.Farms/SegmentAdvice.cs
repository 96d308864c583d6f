using PostPipeline.Quantities;

namespace PostPipeline.Farms;

/// <summary>
/// Compares segment lengths: too few leave nodes idle at the end, too many pay their overhead over and over. Aim at an
/// overhead of 2 to 5 % and at least 4 to 6 tasks a node (common practice, no source), and look at the simulated finish.
/// </summary>
public static class SegmentAdvice
{
    /// <summary>The most lengths of one comparison.</summary>
    public const int MostLengths = 50;

    // Tasks a node for the lengths that are compared where the caller names none.
    private static readonly int[] UsualTasksPerNode = [1, 2, 3, 4, 5, 6, 8, 12, 16, 24, 32, 64];

    /// <summary>Runs the farm with each length for every job, with the same random numbers.</summary>
    /// <param name="scenario">The farm and its jobs.</param>
    /// <param name="lengths">Frames a segment, each 1 or more; a usual spread where empty.</param>
    /// <param name="seed">Any seed.</param>
    /// <param name="replications">Replications of each length.</param>
    /// <param name="progress">Told how many replications of all lengths are done, and how many there will be; from any thread.</param>
    /// <param name="token">Ends it early.</param>
    public static IReadOnlyList<SegmentLength> Compare(
        FarmScenario scenario, IReadOnlyList<long> lengths, long seed, int replications, Action<int, int>? progress = null, CancellationToken token = default)
    {
        int nodes = Math.Max(1, scenario.Nodes.Sum(n => n.Count));
        long frames = scenario.Jobs.Sum(j => j.Frames);
        IEnumerable<long> tried = lengths.Count > 0 ? lengths : UsualTasksPerNode.Select(k => frames / nodes / k).Where(l => l >= 1).DefaultIfEmpty(1);
        (long Length, FarmScenario Cut)[] cuts =
        [
            .. tried.Distinct().Order()
                .Select(length => (Guard.InRange(length, 1, FarmScenarioLimits.MostFrames), scenario with { Jobs = [.. scenario.Jobs.Select(j => j with { SegmentFrames = length })] }))
                .Where(c => FarmTasks.Count(c.Item2.Jobs) <= FarmScenarioLimits.MostTasks),
        ];
        List<SegmentLength> compared = [];
        foreach ((long length, FarmScenario cut) in cuts)
        {
            int before = compared.Count * replications;
            FarmForecast forecast = FarmReplications.Run(cut, seed, replications, done => progress?.Invoke(before + done, cuts.Length * replications), null, token);
            (double useful, double all) = (0, 0);
            foreach (FarmJob job in cut.Jobs)
            {
                long tasks = FarmTasks.Count([job with { JoinSecondsPerFrame = null }]);
                double work = job.Frames * job.SecondsPerFrame;
                useful += work;
                all += work + (tasks * job.OverheadSeconds) + (Math.Max(0, tasks - 1) * Math.Min(job.PreRollFrames, length) * job.SecondsPerFrame);
            }

            compared.Add(new(
                length, all > 0 ? 1 - (useful / all) : 0, (double)FarmTasks.Count(cut.Jobs) / nodes, forecast.Finish(0.5), forecast.Finish(0.9), FarmBounds.Of(cut)));
        }

        return compared;
    }

    /// <summary>The longest of the lengths whose P90 lies within 1 % of the earliest; fewer tasks are less to go wrong.</summary>
    /// <param name="compared">At least one length.</param>
    public static SegmentLength Best(IReadOnlyList<SegmentLength> compared)
    {
        double earliest = compared.Min(l => l.FinishP90);
        return compared.Where(l => l.FinishP90 <= earliest * 1.01).MaxBy(l => l.Frames)!;
    }
}
