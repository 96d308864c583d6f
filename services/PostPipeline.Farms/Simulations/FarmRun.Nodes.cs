using PostPipeline.Flows;
using PostPipeline.Quantities.Randomness;

namespace PostPipeline.Farms.Simulations;

/// <content>Nodes: attempts that go on and end, windows, outages, the farm that stops.</content>
internal sealed partial class FarmRun
{
    // Random numbers of nights stand apart from those of nodes.
    private const int NightEntities = 1 << 30;

    private void ResetNodes()
    {
        for (int c = 0; c < calendarOpen.Length; c++)
        {
            calendarOpen[c] = plan.Calendars[c].IsOpen(0);
            ScheduleTurn(c);
        }

        for (int i = 0; i < nodes.Length; i++)
        {
            NodeClass kind = scenario.Nodes[plan.NodeClasses[i]];
            nodes[i] = new NodeState { Twin = -1, Ticket = -1, SlowFactor = FarmDraws.SlowFactor(plan, seed, replication, i) };
            if (kind.MeanUpMicroseconds > 0)
            {
                ScheduleOutage(i);
            }

            BecomeIdle(i);
        }

        if (scenario.NightFailure is NightFailure night)
        {
            int k = 0;
            foreach ((long from, long until) in night.Nights.Intervals)
            {
                (double happens, double when) = TaskRandom.Units(seed, RandomPurpose.Nodes, replication, NightEntities + k++, 0);
                if (happens < night.Probability && until > 0)
                {
                    queue.Add(Math.Max(0, from + (long)(when * (until - from))), EventKind.FarmDown, 0);
                }
            }
        }
    }

    private bool IsIdle(int node) =>
        !nodes[node].Busy && nodes[node].Down == 0 && farmDown == 0 && calendarOpen[plan.NodeCalendars[node]];

    private void BecomeIdle(int node)
    {
        if (IsIdle(node))
        {
            nodes[node].IdleSince = now;
            idle[plan.NodeClasses[node]].Add(now, node, node);
        }
    }

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

    private void TurnCalendar(int calendar)
    {
        calendarOpen[calendar] = !calendarOpen[calendar];
        ScheduleTurn(calendar);
        foreach (int node in plan.NodesOfCalendar[calendar])
        {
            if (calendarOpen[calendar])
            {
                BecomeIdle(node);
                if (nodes[node].Busy && nodes[node].Paused)
                {
                    GoOn(node);
                }
            }
            else if (nodes[node].Busy && scenario.Closing == ClosingRule.Abandon)
            {
                Break(node, TaskOutcome.Lost);
            }
            else if (nodes[node].Busy && scenario.Closing == ClosingRule.Pause)
            {
                Pause(node);
            }
        }
    }

    private void ScheduleTurn(int calendar)
    {
        Windows windows = plan.Calendars[calendar];
        long? turn = calendarOpen[calendar] ? windows.ClosesAfter(now) : windows.NextOpen(now);
        if (turn is long at && at <= scenario.HorizonMicroseconds)
        {
            queue.Add(at, EventKind.Calendar, calendar);
        }
    }

    private void ScheduleOutage(int node)
    {
        ref NodeState n = ref nodes[node];
        NodeClass kind = scenario.Nodes[plan.NodeClasses[node]];
        double up = TaskRandom.Units(seed, RandomPurpose.Nodes, replication, plan.NodeEntities[node], ++n.Outages).First;
        queue.Add(now + 1 + (long)(-Math.Log(up) * kind.MeanUpMicroseconds), EventKind.NodeDown, node);
    }

    private void NodeDown(int node)
    {
        ref NodeState n = ref nodes[node];
        NodeClass kind = scenario.Nodes[plan.NodeClasses[node]];
        n.Down++;
        if (n.Busy)
        {
            Break(node, TaskOutcome.Lost);
        }

        double down = TaskRandom.Units(seed, RandomPurpose.Nodes, replication, plan.NodeEntities[node], n.Outages).Second;
        queue.Add(now + (long)(-Math.Log(down) * kind.MeanDownMicroseconds), EventKind.NodeUp, node);
    }

    private void NodeUp(int node)
    {
        nodes[node].Down--;
        ScheduleOutage(node);
        BecomeIdle(node);
    }

    private void FarmDown()
    {
        farmDown++;
        for (int i = 0; i < nodes.Length; i++)
        {
            if (nodes[i].Busy)
            {
                Break(i, TaskOutcome.Lost);
            }
        }

        long? look = scenario.Attended is null ? now : scenario.Attended.NextOpen(now);
        if (look is long seen)
        {
            queue.Add(seen, EventKind.FarmUp, 0);
        }
    }

    private void FarmUp()
    {
        farmDown--;
        for (int i = 0; i < nodes.Length; i++)
        {
            BecomeIdle(i);
        }
    }
}
