using OpenTimes = PostPipeline.Flows.Windows;

namespace PostPipeline.Farms.Simulations;

/// <summary>
/// One replication of a farm whose nodes share nothing: every task is there from the start, any node can run it, and windows
/// only delay it. Then no event but "a node is free" matters, and a tournament of nodes by (free from, number) gives the very
/// attempts that the event simulation gives, several times faster. A replication that turns out to need more, because a task
/// is set aside or the windows end, is left to the event simulation.
/// </summary>
internal sealed class ListRun
{
    /// <summary>The most nodes: their numbers share 63 bits with an instant of the clock, which needs 51.</summary>
    public const int MostNodes = 1 << NodeTournament.NodeBits;

    private const int NodeBits = NodeTournament.NodeBits;
    private const int NodeMask = NodeTournament.NodeMask;
    private const long Never = (1L << (63 - NodeBits)) - 1;
    private const int TasksBetweenLooks = 4096;

    private readonly FarmPlan plan;
    private readonly int[] order;
    private readonly int[] calendarOf;

    private readonly SegmentLengths lengths;
    private readonly UnbrokenJobs unbroken;

    // The nodes' keys by when they are free.
    private readonly long[] losers;
    private readonly long[] winners;
    private long first;
    private readonly bool closes;
    private readonly bool pauses;
    private readonly bool plain;
    private readonly bool mayGiveUp;
    private readonly TaskRecordList kept = new();

    // The window in which each calendar's nodes were last seen to be free.
    private readonly long[] windowFrom;
    private readonly long[] windowUntil;

    private readonly FailedAttempts failed;

    public ListRun(FarmPlan plan)
    {
        this.plan = plan;
        order = [.. Enumerable.Range(0, plan.Jobs.Length).OrderBy(j => plan.Jobs[j].Rank).ThenBy(j => j)];
        calendarOf = plan.NodeCalendars;
        lengths = new(plan);
        failed = new(plan);
        int leaves = NodeTournament.Leaves(plan.NodeClasses.Length);
        losers = new long[leaves];
        winners = new long[2 * leaves];
        unbroken = new(plan, lengths, losers);
        closes = plan.Calendars.Any(c => c != OpenTimes.Always);
        windowFrom = new long[plan.Calendars.Length];
        windowUntil = new long[plan.Calendars.Length];
        plain = !closes && MostTime(plan) < plan.Scenario.HorizonMicroseconds;
        mayGiveUp = !plain || plan.Classes.Any(c => c.CanFail);
        pauses = plan.Scenario.Closing == ClosingRule.Pause;
    }

    /// <summary>Whether the nodes of a plan share nothing.</summary>
    public static bool Fits(FarmPlan plan)
    {
        FarmScenario s = plan.Scenario;
        return plan.NodeClasses.Length is > 0 and <= MostNodes
            && plan.OwnJobs == plan.Jobs.Length
            && s.Running.Count == 0
            && s.NightFailure is null
            && !s.DuplicateTail
            && (s.Sharing == SharingRule.Strict || s.Projects.Count <= 1)
            && s.Nodes.All(n => n.Count == 0 || n.MeanUpMicroseconds == 0)
            && (s.Closing != ClosingRule.Abandon || plan.Calendars.All(c => c == OpenTimes.Always))
            && plan.Jobs.All(j => j.Release == 0 && j.Predecessors == 0 && !j.HasJoin && plan.Classes[j.Class].Licence < 0
                && (plan.Classes[j.Class].Storage < 0 || (j.ReadBytesPerFrame == 0 && j.WriteBytesPerFrame == 0)))
            && plan.LaneClasses.All(k => Enumerable.Range(0, s.Nodes.Count).All(c => s.Nodes[c].Count == 0 || plan.TimeFactors[c][k] > 0));
    }

    /// <summary>Runs a replication; null where it needs the event simulation, before any row was written.</summary>
    public ReplicationResult? Run(long seed, int replication, ITaskRecorder? recorder, CancellationToken token)
    {
        token.ThrowIfCancellationRequested();
        if (!Reset(seed, replication))
        {
            return null;
        }

        // Rows cannot be taken back, so where the replication may yet be given up they wait until it is done.
        ITaskRecorder? sink = recorder is not null && mayGiveUp ? kept : recorder;
        kept.Clear();
        long[] finishes = new long[plan.Jobs.Length];
        long tasksDone = 0;
        long failures = 0;
        long handled = 0;
        long busy = 0;
        long wasted = 0;
        double area = 0;
        int position = -1;
        int segment = 0;
        int segments = 0;
        int job = -1;
        while (true)
        {
            while (segment == segments && ++position < order.Length)
            {
                job = order[position];
                segment = 0;
                segments = plan.Jobs[job].Segments;
            }

            bool fresh = position < order.Length;
            if (!fresh && failed.None)
            {
                break;
            }

            if (fresh && plain && failed.None && plan.Jobs[job] is { PreRoll: 0 } && !plan.Classes[plan.Jobs[job].Class].CanFail)
            {
                token.ThrowIfCancellationRequested();
                UnbrokenJobs.Outcome whole = unbroken.Run(job, segment, first, sink);
                first = whole.First;
                finishes[job] = Math.Max(finishes[job], whole.Finish);
                busy += whole.Busy;
                area += whole.Area;
                handled += segments - segment;
                tasksDone += segments - segment;
                segment = segments;
                continue;
            }

            long at = first >> NodeBits;
            int node = (int)(first & NodeMask);
            failed.Gather(at);
            if (!fresh)
            {
                // With nothing else to do the node waits for the next failure, unless its window closes first.
                if (!failed.AnyWaits)
                {
                    failed.GatherNext();
                }

                long ready = failed.First.Ready;
                if (ready > at)
                {
                    OpenTimes open = plan.Calendars[plan.NodeCalendars[node]];
                    if (closes && at != Never && open.ClosesAfter(at) is long shut && shut <= ready)
                    {
                        first = NodeTournament.Replay(losers, ((open.NextOpen(shut) ?? Never) << NodeBits) | (uint)node);
                        continue;
                    }

                    at = ready;
                }
            }

            if (at == Never)
            {
                return null;
            }

            FailedAttempts.Attempt attempt = failed.AnyWaits ? failed.Take() : new(job, segment++, 0, 0);
            ref readonly PlannedJob planned = ref plan.Jobs[attempt.Job];
            ref readonly PlannedClass kind = ref plan.Classes[planned.Class];
            bool fails = kind.CanFail && FarmDraws.Fails(seed, replication, kind, planned.FirstTask + attempt.Segment, attempt.Number, false);
            long length = lengths.Of(node, attempt.Job, attempt.Segment, fails);
            long end = at + length;
            long free = end;
            int calendar = closes ? calendarOf[node] : 0;
            if (closes && !(at >= windowFrom[calendar] && end < windowUntil[calendar]))
            {
                OpenTimes open = plan.Calendars[calendar];
                if (pauses)
                {
                    if (open.Advance(at, length) is not long advanced)
                    {
                        return null;
                    }

                    free = end = advanced;
                }

                if (!Inside(calendar, end))
                {
                    if (open.NextOpen(end) is long next)
                    {
                        free = next;
                        (windowFrom[calendar], windowUntil[calendar]) = (next, open.ClosesAfter(next)!.Value);
                    }
                    else if (fresh || fails)
                    {
                        return null;
                    }
                    else
                    {
                        free = Never;
                    }
                }
            }

            if (end > plan.Scenario.HorizonMicroseconds)
            {
                return null;
            }

            sink?.Ended(new TaskRecord(attempt.Job, attempt.Segment, attempt.Number, node, attempt.Ready, at, end, fails ? TaskOutcome.Failed : TaskOutcome.Done));
            busy += end - at;
            handled++;
            if (fails)
            {
                failures++;
                wasted += end - at;
                if (attempt.Number + 1 >= kind.RetryCap)
                {
                    return null;
                }

                failed.Add(attempt, end);
            }
            else
            {
                tasksDone++;
                area += end;
                finishes[attempt.Job] = Math.Max(finishes[attempt.Job], end);
            }

            first = NodeTournament.Replay(losers, (free << NodeBits) | (uint)node);
            if ((handled & (TasksBetweenLooks - 1)) == 0)
            {
                token.ThrowIfCancellationRequested();
            }
        }

        if (recorder is not null && mayGiveUp)
        {
            kept.WriteTo(recorder);
        }

        return new()
        {
            JobFinishes = finishes,
            Finish = Latest(finishes),
            TasksDone = tasksDone,
            Failures = failures,
            Lost = 0,
            Dropped = 0,
            SetAside = 0,
            BusyMicroseconds = busy,
            WastedMicroseconds = wasted,
            TaskMicroseconds = area,
            Events = handled + plan.Jobs.Length,
        };
    }

    // More than all work can take on any one node, spread and slow nodes included; then no horizon need be watched.
    private static double MostTime(FarmPlan plan)
    {
        double slowest = plan.TimeFactors.Max(f => f.Max()) * plan.Scenario.Nodes.Max(n => n.SlowFactorHigh);
        double spread = Math.Exp(10 * (plan.Classes.Max(c => c.TaskLogSd) + plan.Classes.Max(c => c.SharedLogSd)));
        return plan.Jobs.Sum(j => ((j.Frames + (j.Segments * (double)j.PreRoll)) * j.MicrosecondsPerFrame * slowest * spread) + ((double)j.Segments * j.Overhead));
    }

    private bool Inside(int calendar, long instant) => instant >= windowFrom[calendar] && instant < windowUntil[calendar];

    private static long Latest(long[] finishes)
    {
        long latest = 0;
        foreach (long finish in finishes)
        {
            latest = Math.Max(latest, finish);
        }

        return latest;
    }

    private bool Reset(long seed, int replication)
    {
        failed.Clear();
        Array.Clear(windowFrom);
        Array.Clear(windowUntil);
        lengths.Reset(seed, replication);
        for (int n = 0; n < plan.NodeClasses.Length; n++)
        {
            if (plan.Calendars[plan.NodeCalendars[n]].NextOpen(0) is not long from)
            {
                return false;
            }

            winners[losers.Length + n] = (from << NodeBits) | (uint)n;
        }

        winners.AsSpan(losers.Length + plan.NodeClasses.Length).Fill(long.MaxValue);
        first = NodeTournament.Play(winners, losers);
        return true;
    }
}
