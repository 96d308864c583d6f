using PostPipeline.Farms.Simulations;

namespace PostPipeline.Farms;

/// <summary>Counts tasks.</summary>
public static class FarmTasks
{
    /// <summary>Tasks of all jobs, joins included, each counted once however often it is tried.</summary>
    /// <param name="jobs">Jobs of a scenario without problems.</param>
    public static long Count(IEnumerable<FarmJob> jobs) =>
        jobs.Sum(j => (long)FarmPlan.SegmentsOf(j) + (j.JoinSecondsPerFrame is not null && j.Frames > 0 ? 1 : 0));
}
