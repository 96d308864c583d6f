using PostPipeline.Flows;
using PostPipeline.Quantities.Randomness;

namespace PostPipeline.Farms.Simulations;

/// <content>Nodes: when they are idle, windows, outages, the farm that stops.</content>
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
