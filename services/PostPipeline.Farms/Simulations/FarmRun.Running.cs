using PostPipeline.Quantities.Randomness;

namespace PostPipeline.Farms.Simulations;

/// <content>Tasks that are under way when the simulation begins.</content>
internal sealed partial class FarmRun
{
    // The random number that stands for "not before the end of time" would have an infinite normal quantile.
    private const double AlmostOne = 1 - 1e-12;

    private void ResetRunning()
    {
        for (int i = 0; i < plan.RunningTasks.Length; i++)
        {
            RunningTask running = plan.RunningTasks[i];
            ref readonly PlannedJob job = ref plan.Jobs[running.Job];
            ref readonly PlannedClass kind = ref plan.Classes[job.Class];
            int node = running.Node;
            ref NodeState n = ref nodes[node];
            n.Job = running.Job;
            n.Segment = i - job.RunningFrom;
            n.Busy = true;
            n.Start = n.Ready = -running.ElapsedMicroseconds;
            inSystem++;
            projectRunning[plan.LaneProjects[job.Lane]]++;
            if (kind.Licence >= 0)
            {
                licencesFree[kind.Licence]--;
            }

            if (running.Stuck)
            {
                long? look = scenario.Attended is null ? 0 : scenario.Attended.NextOpen(0);
                n.Phase = AttemptPhase.Work;
                n.TransferDone = true;
                n.Fails = true;
                if (look is long seen)
                {
                    Await(node, seen);
                }

                continue;
            }

            GoOnFrom(node, running, kind);
        }
    }

    // What is left of a task is drawn from the times that are longer than it has run already.
    private void GoOnFrom(int node, RunningTask running, in PlannedClass kind)
    {
        ref NodeState n = ref nodes[node];
        ref readonly PlannedJob job = ref plan.Jobs[n.Job];
        (double median, double bytes) = Amounts(node, 1);
        double worked = Math.Max(0, running.ElapsedMicroseconds - job.Overhead);
        double work = median;
        if (kind.TaskLogSd > 0 && median > 0)
        {
            double before = worked <= 0 ? 0 : NormalDistribution.Cumulative(Math.Log(worked / median) / kind.TaskLogSd);
            double unit = TaskRandom.Units(seed, RandomPurpose.Durations, replication, job.FirstTask + n.Segment, 0).First;
            double drawn = Math.Min(AlmostOne, before + (unit * (1 - before)));
            work = median * Math.Exp(kind.TaskLogSd * NormalDistribution.Quantile(drawn));
        }

        double left = Math.Max(0, work - worked);
        double overheadLeft = Math.Max(0, job.Overhead - running.ElapsedMicroseconds);
        n.Fails = kind.CanFail && FarmDraws.Fails(seed, replication, kind, job.FirstTask + n.Segment, 0, false);
        n.Bytes = work > 0 ? bytes * left / work : 0;
        n.Compute = left;
        n.Phase = AttemptPhase.Work;
        n.ComputeDone = false;
        n.TransferDone = n.Bytes <= 0;
        Await(node, (long)(overheadLeft + left + 0.5));
        if (!n.TransferDone)
        {
            pools[kind.Storage].Start(0, n.Bytes, node);
        }

        if (!calendarOpen[plan.NodeCalendars[node]] && scenario.Closing == ClosingRule.Pause)
        {
            Pause(node);
        }
    }
}
