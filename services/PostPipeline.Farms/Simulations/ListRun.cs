using PostPipeline.Quantities.Randomness;
using OpenTimes = PostPipeline.Flows.Windows;

namespace PostPipeline.Farms.Simulations;

/// <summary>
/// One replication of a farm whose nodes share nothing: every task is there from the start, any node can run it, and windows
/// only delay it. Then no event but "a node is free" matters, and a heap of nodes by (free from, number) gives the very
/// attempts that the event simulation gives, several times faster. A replication that turns out to need more, because a task
/// is set aside or the windows end, is left to the event simulation.
/// </summary>
internal sealed class ListRun
{
    private const int TasksBetweenLooks = 4096;

    private readonly FarmPlan plan;
    private readonly int[] order;
    private readonly Holding[] nodes;
    private readonly Free[] heap;
    private readonly double[] sharedFactor;
    private readonly bool closes;
    private readonly bool pauses;

    // Attempts that will fail, by the instant at which they do, and those that have failed and wait.
    private readonly PairQueue failing = new();
    private readonly PairQueue again = new();
    private readonly List<Attempt> attempts = [];

    private int size;

    public ListRun(FarmPlan plan)
    {
        this.plan = plan;
        order = [.. Enumerable.Range(0, plan.Jobs.Length).OrderBy(j => plan.Jobs[j].Rank).ThenBy(j => j)];
        nodes = new Holding[plan.NodeClasses.Length];
        heap = new Free[nodes.Length];
        sharedFactor = new double[plan.Classes.Length];
        closes = plan.Calendars.Any(c => c != OpenTimes.Always);
        pauses = plan.Scenario.Closing == ClosingRule.Pause;
    }

    /// <summary>Whether the nodes of a plan share nothing.</summary>
    public static bool Fits(FarmPlan plan)
    {
        FarmScenario s = plan.Scenario;
        return plan.NodeClasses.Length > 0
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
        if (recorder is not null && plan.Classes.Any(c => c.CanFail))
        {
            // Rows cannot be taken back, so look first whether the replication can be done at all.
            if (Run(seed, replication, null, token) is null)
            {
                return null;
            }
        }

        token.ThrowIfCancellationRequested();
        if (!Reset(seed, replication))
        {
            return null;
        }

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
        int waiting = plan.Jobs.Sum(j => j.Segments);
        recorder?.Ready(0, waiting);
        while (true)
        {
            while (segment == segments && ++position < order.Length)
            {
                job = order[position];
                segment = 0;
                segments = plan.Jobs[job].Segments;
            }

            bool fresh = position < order.Length;
            if (!fresh && again.Count == 0 && failing.Count == 0)
            {
                break;
            }

            long at = heap[0].From;
            int node = heap[0].Node;
            while (failing.Count > 0 && (failing.First.Key <= at || (!fresh && again.Count == 0)))
            {
                // With nothing else to do the node waits for the failure, unless its window closes first.
                if (failing.First.Key > at)
                {
                    if (closes && plan.Calendars[plan.NodeCalendars[node]].ClosesAfter(at) is long shut && shut <= failing.First.Key)
                    {
                        if (plan.Calendars[plan.NodeCalendars[node]].NextOpen(shut) is not long reopens)
                        {
                            return null;
                        }

                        Sink(new(reopens, node));
                        (at, node) = (heap[0].From, heap[0].Node);
                        continue;
                    }

                    at = failing.First.Key;
                }

                int failed = failing.First.Value;
                failing.RemoveFirst();
                again.Add(plan.Jobs[attempts[failed].Job].Rank, ((long)attempts[failed].Job << 32) | (uint)failed, failed);
                recorder?.Ready(at, 1);
            }

            ref Holding holding = ref nodes[node];
            if (recorder is not null && holding.Held)
            {
                Write(recorder, node, holding);
            }

            holding.Held = true;
            holding.Start = at;
            if (again.Count > 0)
            {
                Attempt attempt = attempts[again.First.Value];
                again.RemoveFirst();
                (holding.Job, holding.Segment, holding.Number, holding.Ready) = (attempt.Job, attempt.Segment, attempt.Number, attempt.Ready);
            }
            else
            {
                (holding.Job, holding.Segment, holding.Number, holding.Ready) = (job, segment++, 0, 0);
            }

            ref readonly PlannedJob planned = ref plan.Jobs[holding.Job];
            ref readonly PlannedClass kind = ref plan.Classes[planned.Class];
            long length = Length(seed, replication, node, planned, kind, holding.Segment, holding.Number, out bool fails);
            long end = at + length;
            long free = end;
            if (closes)
            {
                OpenTimes open = plan.Calendars[plan.NodeCalendars[node]];
                if (pauses)
                {
                    if (open.Advance(at, length) is not long advanced)
                    {
                        return null;
                    }

                    end = advanced;
                }

                if (open.NextOpen(end) is long next)
                {
                    free = next;
                }
                else if (fresh || fails)
                {
                    return null;
                }
            }

            if (end > plan.Scenario.HorizonMicroseconds)
            {
                return null;
            }

            holding.End = end;
            holding.Outcome = fails ? TaskOutcome.Failed : TaskOutcome.Done;
            busy += end - at;
            handled++;
            if (fails)
            {
                failures++;
                wasted += end - at;
                if (holding.Number + 1 >= kind.RetryCap)
                {
                    return null;
                }

                failing.Add(end, attempts.Count, attempts.Count);
                attempts.Add(new(holding.Job, holding.Segment, holding.Number + 1, end));
            }
            else
            {
                tasksDone++;
                area += end;
                if (end > finishes[holding.Job])
                {
                    finishes[holding.Job] = end;
                }
            }

            Sink(new(free, node));
            if ((handled & (TasksBetweenLooks - 1)) == 0)
            {
                token.ThrowIfCancellationRequested();
            }
        }

        if (recorder is not null)
        {
            foreach (int node in Enumerable.Range(0, nodes.Length).Where(n => nodes[n].Held).OrderBy(n => nodes[n].End).ThenBy(n => n))
            {
                Write(recorder, node, nodes[node]);
            }
        }

        return new()
        {
            JobFinishes = finishes,
            Finish = finishes.Length == 0 ? 0 : finishes.Max(),
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

    private static void Write(ITaskRecorder recorder, int node, in Holding h) =>
        recorder.Ended(new TaskRecord(h.Job, h.Segment, h.Number, node, h.Ready, h.Start, h.End, h.Outcome));

    private bool Reset(long seed, int replication)
    {
        failing.Clear();
        again.Clear();
        attempts.Clear();
        size = nodes.Length;
        for (int c = 0; c < sharedFactor.Length; c++)
        {
            sharedFactor[c] = FarmDraws.SharedFactor(plan, seed, replication, c);
        }

        for (int n = 0; n < nodes.Length; n++)
        {
            nodes[n].Held = false;
            nodes[n].SlowFactor = FarmDraws.SlowFactor(plan, seed, replication, n);
            if (plan.Calendars[plan.NodeCalendars[n]].NextOpen(0) is not long from)
            {
                return false;
            }

            heap[n] = new(from, n);
        }

        Array.Sort(heap, static (a, b) => a.From != b.From ? a.From.CompareTo(b.From) : a.Node.CompareTo(b.Node));
        return true;
    }

    private long Length(
        long seed, int replication, int node, in PlannedJob job, in PlannedClass kind, int segment, int attempt, out bool fails)
    {
        long before = segment * job.SegmentFrames;
        long rendered = Math.Min(job.SegmentFrames, job.Frames - before) + Math.Min(job.PreRoll, before);
        double work = rendered * job.MicrosecondsPerFrame * plan.TimeFactors[plan.NodeClasses[node]][job.Class] * nodes[node].SlowFactor * sharedFactor[job.Class];
        if (kind.TaskLogSd > 0)
        {
            work *= FarmDraws.TaskFactor(seed, replication, job.FirstTask + segment, kind.TaskLogSd);
        }

        double overhead = job.Overhead;
        fails = kind.CanFail && FarmDraws.Fails(seed, replication, kind, job.FirstTask + segment, attempt, false);
        if (fails)
        {
            work *= kind.FailurePoint;
            overhead *= kind.FailurePoint;
        }

        return (long)(overhead + 0.5) + (long)(work + 0.5);
    }

    // The first node of the heap gets another instant.
    private void Sink(Free entry)
    {
        Free[] entries = heap;
        int last = size;
        int at = 0;
        while (true)
        {
            int child = (at << 1) + 1;
            if (child >= last)
            {
                break;
            }

            if (child + 1 < last && entries[child + 1].Before(entries[child]))
            {
                child++;
            }

            if (entry.Before(entries[child]))
            {
                break;
            }

            entries[at] = entries[child];
            at = child;
        }

        entries[at] = entry;
    }

    private readonly record struct Attempt(int Job, int Segment, int Number, long Ready);

    private readonly struct Free(long from, int node)
    {
        public readonly long From = from;
        public readonly int Node = node;

        public bool Before(in Free other) => From < other.From || (From == other.From && Node < other.Node);
    }

    private struct Holding
    {
        public double SlowFactor;
        public long Ready;
        public long Start;
        public long End;
        public int Job;
        public int Segment;
        public int Number;
        public TaskOutcome Outcome;
        public bool Held;
    }
}
