using PostPipeline.Farms.Simulations;
using PostPipeline.Quantities.Randomness;

namespace PostPipeline.Farms;

/// <summary>Looks at what is running now, and lays out what could be changed.</summary>
public static class NightWatch
{
    /// <summary>A task that fewer than so many of its like outlast is taken to be stuck.</summary>
    public const double StuckChance = 0.01;

    // Where no spread is known, twice its time is too long.
    private const double StuckFactor = 2;

    /// <summary>Tasks that look stuck against their prediction, the least likely first.</summary>
    /// <param name="scenario">A scenario without problems, with tasks under way.</param>
    public static IReadOnlyList<StuckTask> Stuck(FarmScenario scenario)
    {
        FarmPlan plan = new(scenario);
        List<StuckTask> stuck = [];
        for (int i = 0; i < scenario.Running.Count; i++)
        {
            RunningTask task = scenario.Running[i];
            FarmJob job = scenario.Jobs[task.Job];
            JobClass kind = scenario.Classes[job.Class];
            double overhead = job.OverheadSeconds * FarmClock.MicrosecondsPerSecond;
            double median = task.Frames * job.SecondsPerFrame * FarmClock.MicrosecondsPerSecond * plan.TimeFactors[plan.NodeClasses[task.Node]][job.Class];
            double worked = task.ElapsedMicroseconds - overhead;
            double sd = Math.Sqrt((kind.TaskLogSd * kind.TaskLogSd) + (kind.SharedLogSd * kind.SharedLogSd));
            double chance = worked <= 0 || median <= 0 ? 1
                : sd > 0 ? NormalDistribution.UpperTail(Math.Log(worked / median) / sd)
                : worked > StuckFactor * median ? 0 : 1;
            if (chance < StuckChance)
            {
                stuck.Add(new(i, overhead + median, chance));
            }
        }

        return [.. stuck.OrderBy(s => s.Chance).ThenBy(s => s.Running)];
    }

    /// <summary>The scenario with stuck tasks marked, so that they are ended when somebody looks and tried again.</summary>
    /// <param name="scenario">The scenario.</param>
    /// <param name="stuck">Tasks that look stuck.</param>
    public static FarmScenario Mark(FarmScenario scenario, IReadOnlyList<StuckTask> stuck)
    {
        HashSet<int> marked = [.. stuck.Select(s => s.Running)];
        return scenario with { Running = [.. scenario.Running.Select((r, i) => marked.Contains(i) ? r with { Stuck = true } : r)] };
    }

    /// <summary>The scenario with the waiting tasks of a job held until an instant.</summary>
    /// <param name="scenario">The scenario.</param>
    /// <param name="job">The job, by index.</param>
    /// <param name="untilMicroseconds">The instant.</param>
    public static FarmScenario Hold(FarmScenario scenario, int job, long untilMicroseconds) =>
        Change(scenario, job, j => j with { ReleaseMicroseconds = Math.Max(j.ReleaseMicroseconds, untilMicroseconds) });

    /// <summary>The scenario with another priority for a job.</summary>
    /// <param name="scenario">The scenario.</param>
    /// <param name="job">The job, by index.</param>
    /// <param name="priority">The new priority.</param>
    public static FarmScenario Raise(FarmScenario scenario, int job, int priority) => Change(scenario, job, j => j with { Priority = priority });

    /// <summary>The scenario with nodes taken out.</summary>
    /// <param name="scenario">The scenario.</param>
    /// <param name="maintenance">Which and when.</param>
    public static FarmScenario TakeOut(FarmScenario scenario, Maintenance maintenance) =>
        scenario with { Maintenance = [.. scenario.Maintenance, maintenance] };

    private static FarmScenario Change(FarmScenario scenario, int job, Func<FarmJob, FarmJob> change) =>
        scenario with { Jobs = [.. scenario.Jobs.Select((j, i) => i == job ? change(j) : j)] };
}
