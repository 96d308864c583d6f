namespace PostPipeline.Farms.Simulations;

/// <content>Attempts on their nodes: overhead, work and transfers, pauses, and how they end.</content>
internal sealed partial class FarmRun
{
    private void StepOver(int node)
    {
        ref NodeState n = ref nodes[node];
        n.Ticket = -1;
        if (n.Phase == AttemptPhase.Overhead)
        {
            MoveFirst(node);
            return;
        }

        n.ComputeDone = true;
        if (n.TransferDone)
        {
            End(node, n.Fails ? TaskOutcome.Failed : TaskOutcome.Done);
        }
    }

    private void MoveFirst(int node)
    {
        ref NodeState n = ref nodes[node];
        ref readonly PlannedClass kind = ref plan.Classes[plan.Jobs[n.Job].Class];
        double first = n.Bytes * (1 - kind.Overlap);
        n.Phase = AttemptPhase.MoveFirst;
        n.TransferDone = false;
        if (first > 0)
        {
            pools[kind.Storage].Start(now, first, node);
        }
        else
        {
            WorkAndMove(node);
        }
    }

    private void WorkAndMove(int node)
    {
        ref NodeState n = ref nodes[node];
        ref readonly PlannedClass kind = ref plan.Classes[plan.Jobs[n.Job].Class];
        double rest = n.Bytes * kind.Overlap;
        n.Phase = AttemptPhase.Work;
        n.ComputeDone = false;
        n.TransferDone = rest <= 0;
        Await(node, (long)(n.Compute + 0.5));
        if (rest > 0)
        {
            pools[kind.Storage].Start(now, rest, node);
        }
    }

    private void TransferOver(int node)
    {
        ref NodeState n = ref nodes[node];
        if (n.Phase == AttemptPhase.MoveFirst)
        {
            WorkAndMove(node);
            return;
        }

        n.TransferDone = true;
        if (n.ComputeDone)
        {
            End(node, n.Fails ? TaskOutcome.Failed : TaskOutcome.Done);
        }
    }

    // An attempt leaves its node, however it ended.
    private void End(int node, TaskOutcome outcome)
    {
        ref NodeState n = ref nodes[node];
        ref readonly PlannedJob job = ref plan.Jobs[n.Job];
        ref readonly PlannedClass kind = ref plan.Classes[job.Class];
        long held = now - n.Start;
        busyTime += held;
        n.Busy = false;
        projectRunning[plan.LaneProjects[job.Lane]]--;
        if (kind.Licence >= 0)
        {
            licencesFree[kind.Licence]++;
        }

        if (recorder is not null)
        {
            recorder.Ended(new TaskRecord(n.Job, n.Segment, n.Attempt, node, n.Ready, n.Start, now, outcome));
        }

        int twin = n.Twin;
        n.Twin = -1;
        if (twin >= 0)
        {
            nodes[twin].Twin = -1;
        }

        switch (outcome)
        {
            case TaskOutcome.Done:
                if (twin >= 0)
                {
                    Break(twin, TaskOutcome.Dropped);
                }

                TaskDone(n.Job);
                break;
            case TaskOutcome.Dropped:
                dropped++;
                wastedTime += held;
                break;
            default:
                wastedTime += held;
                failures += outcome == TaskOutcome.Failed ? 1 : 0;
                lost += outcome == TaskOutcome.Lost ? 1 : 0;
                if (twin >= 0)
                {
                    // The other copy goes on as the next attempt, so that the cap on attempts still holds.
                    nodes[twin].Attempt++;
                    nodes[twin].Excused += outcome == TaskOutcome.Lost ? 1 : 0;
                }
                else
                {
                    TryAgain(n, outcome == TaskOutcome.Lost);
                }

                break;
        }

        BecomeIdle(node);
    }

    // Ends an attempt before its time.
    private void Break(int node, TaskOutcome outcome)
    {
        ref NodeState n = ref nodes[node];
        n.Ticket = -1;
        if (!n.Paused && IsMoving(n))
        {
            pools[plan.Classes[plan.Jobs[n.Job].Class].Storage].Abandon(now, node);
        }

        End(node, outcome);
    }

    private static bool IsMoving(in NodeState n) => n.Phase != AttemptPhase.Overhead && !n.TransferDone;

    private void Pause(int node)
    {
        ref NodeState n = ref nodes[node];
        n.Paused = true;
        n.TimeLeft = n.Ticket < 0 ? -1 : n.Due - now;
        n.Ticket = -1;
        n.BytesLeft = IsMoving(n) ? pools[plan.Classes[plan.Jobs[n.Job].Class].Storage].Abandon(now, node) : -1;
    }

    private void GoOn(int node)
    {
        ref NodeState n = ref nodes[node];
        n.Paused = false;
        if (n.TimeLeft >= 0)
        {
            Await(node, n.TimeLeft);
        }

        if (n.BytesLeft >= 0)
        {
            pools[plan.Classes[plan.Jobs[n.Job].Class].Storage].Start(now, n.BytesLeft, node);
        }
    }
}
