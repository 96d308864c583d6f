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

    // The node whose lengths are a node's own too: the first of its class, where no node of the class can be slow.
    private readonly int[] groupOf;
    private readonly Holding[] nodes;

    // The nodes' keys by when they are free.
    private readonly long[] losers;
    private readonly long[] winners;
    private long first;
    private readonly double[] sharedFactor;
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
        groupOf = [.. plan.NodeClasses.Select((c, n) => plan.Scenario.Nodes[c].SlowProbability > 0 ? n : Array.IndexOf(plan.NodeClasses, c))];
        nodes = new Holding[plan.NodeClasses.Length];

        failed = new(plan);
        int leaves = NodeTournament.Leaves(nodes.Length);
        losers = new long[leaves];
        winners = new long[2 * leaves];
        sharedFactor = new double[plan.Classes.Length];
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
                (long jobBusy, double jobArea) = Plain(job, segment, sink, finishes, seed, replication);
                busy += jobBusy;
                area += jobArea;
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
            long length = LengthOf(seed, replication, node, attempt.Job, attempt.Segment, fails);
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

    // The rest of a job that cannot fail, on nodes that never close: nothing but the tournament and the row.
    private (long Busy, double Area) Plain(int job, int from, ITaskRecorder? sink, long[] finishes, long seed, int replication)
    {
        ref readonly PlannedJob planned = ref plan.Jobs[job];
        int segments = planned.Segments;
        int last = segments - 1;

        // The usual recorder is called without a look at its type, which lets the compiler write its rows in place.
        TaskRecordList? list = sink as TaskRecordList;
        long[] keys = losers;
        long key = first;
        Holding[] holdings = nodes;
        int[] groups = groupOf;
        long busy = 0;
        double area = 0;

        // Segments before these may have been done already, and one of them may end last.
        long finish = finishes[job];
        for (int segment = from; segment < segments; segment++)
        {
            int node = (int)(key & NodeMask);
            long at = key >> NodeBits;
            ref Holding holding = ref holdings[groups[node]];
            long length = holding.KnownJob == job && segment < last ? holding.KnownLength : LengthOf(seed, replication, node, job, segment, false);
            long end = at + length;
            if (list is not null)
            {
                list.Ended(new TaskRecord(job, segment, 0, node, 0, at, end, TaskOutcome.Done));
            }
            else
            {
                sink?.Ended(new TaskRecord(job, segment, 0, node, 0, at, end, TaskOutcome.Done));
            }

            busy += length;
            area += end;
            finish = Math.Max(finish, end);
            key = NodeTournament.Replay(keys, (end << NodeBits) | (uint)node);
        }

        first = key;
        finishes[job] = finish;
        return (busy, area);
    }

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
        for (int c = 0; c < sharedFactor.Length; c++)
        {
            sharedFactor[c] = FarmDraws.SharedFactor(plan, seed, replication, c);
        }

        for (int n = 0; n < nodes.Length; n++)
        {
            nodes[n].KnownJob = -1;
            nodes[n].SlowFactor = FarmDraws.SlowFactor(plan, seed, replication, n);
            if (plan.Calendars[plan.NodeCalendars[n]].NextOpen(0) is not long from)
            {
                return false;
            }

            winners[losers.Length + n] = (from << NodeBits) | (uint)n;
        }

        winners.AsSpan(losers.Length + nodes.Length).Fill(long.MaxValue);
        first = NodeTournament.Play(winners, losers);
        return true;
    }

    // Whole segments of a job take equally long on a node when there is no spread, so the last length is kept.
    private long LengthOf(long seed, int replication, int node, int number, int segment, bool fails)
    {
        ref Holding holding = ref nodes[groupOf[node]];
        ref readonly PlannedJob job = ref plan.Jobs[number];
        bool whole = segment < job.Segments - 1 && !fails;
        if (whole && holding.KnownJob == number)
        {
            return holding.KnownLength;
        }

        ref readonly PlannedClass kind = ref plan.Classes[job.Class];
        long before = segment * job.SegmentFrames;
        long rendered = Math.Min(job.SegmentFrames, job.Frames - before) + Math.Min(job.PreRoll, before);
        double work = rendered * job.MicrosecondsPerFrame * plan.TimeFactors[plan.NodeClasses[node]][job.Class] * holding.SlowFactor * sharedFactor[job.Class];
        if (kind.TaskLogSd > 0)
        {
            work *= FarmDraws.TaskFactor(seed, replication, job.FirstTask + segment, kind.TaskLogSd);
        }

        double overhead = job.Overhead;
        if (fails)
        {
            work *= kind.FailurePoint;
            overhead *= kind.FailurePoint;
        }

        // Both are far below 2⁶³: the scenario's checks see to it.
        long length = unchecked((long)(overhead + 0.5) + (long)(work + 0.5));
        if (whole && kind.TaskLogSd == 0 && job.PreRoll == 0)
        {
            (holding.KnownJob, holding.KnownLength) = (number, length);
        }

        return length;
    }

    private struct Holding
    {
        public double SlowFactor;
        public long KnownLength;
        public int KnownJob;
    }
}
