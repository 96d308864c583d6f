using PostPipeline.Quantities;

namespace PostPipeline.Flows;

/// <summary>
/// What a fluid forgets: work comes in whole tasks, so the last servers finish after the work has, on average, run dry.
/// </summary>
public static class FluidTail
{
    /// <summary>
    /// The mean time from the instant at which n tasks would be done as a fluid, n·t/m, to the end of the last task. Equal
    /// tasks end in waves: ⌈n/m⌉·t − n·t/m, exact. Unequal ones end spread over one task: with at least one task a server,
    /// half a task less its share, t·(m−1)/(2m); with fewer, what is left of the one wave.
    /// </summary>
    /// <param name="tasks">Tasks, 0 or more.</param>
    /// <param name="servers">Servers at work, 1 or more.</param>
    /// <param name="task">Time of a task on one server, 0 or more.</param>
    /// <param name="equal">Whether all tasks take the same time on all servers.</param>
    public static double Mean(long tasks, long servers, double task, bool equal)
    {
        Guard.InRange(tasks, 0, long.MaxValue);
        Guard.InRange(servers, 1, long.MaxValue);
        if (tasks == 0)
        {
            return 0;
        }

        double fluid = (double)tasks / servers;
        return task * (equal || tasks <= servers ? Math.Ceiling(fluid) - fluid : (servers - 1.0) / (2.0 * servers));
    }
}
