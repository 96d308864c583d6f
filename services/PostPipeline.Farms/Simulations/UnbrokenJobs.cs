namespace PostPipeline.Farms.Simulations;

/// <summary>
/// The rest of a job that cannot fail, on nodes that never close: nothing but the tournament of nodes and the row. Where whole
/// segments take equally long on a node, a node's key moves on by a step that is known before.
/// </summary>
internal sealed class UnbrokenJobs(FarmPlan plan, SegmentLengths lengths, long[] losers)
{
    private const int NodeBits = NodeTournament.NodeBits;
    private const int NodeMask = NodeTournament.NodeMask;

    private readonly long[] steps = new long[plan.NodeClasses.Length];

    /// <summary>What came of a job.</summary>
    /// <param name="First">The key of the node that is free first.</param>
    /// <param name="Finish">When the last of the segments ends, in microseconds.</param>
    /// <param name="Busy">The node time of the segments, in microseconds.</param>
    /// <param name="Area">The sum of their ends, in microseconds.</param>
    public readonly record struct Outcome(long First, long Finish, long Busy, double Area);

    /// <summary>Runs the segments of a job from one on.</summary>
    /// <param name="job">The job.</param>
    /// <param name="from">The first segment that has not been done.</param>
    /// <param name="first">The key of the node that is free first.</param>
    /// <param name="sink">Where the rows go, if anywhere.</param>
    public Outcome Run(int job, int from, long first, ITaskRecorder? sink)
    {
        // The usual recorder is called without a look at its type, which lets the compiler write its rows in place.
        TaskRecordList? list = sink as TaskRecordList;
        Outcome done = new(first, 0, 0, 0);
        int segments = plan.Jobs[job].Segments;

        // Looking up every node's step pays where each is needed at least about once.
        if (segments - 1 - from >= steps.Length && lengths.AreEven(job) && (sink is null || list is not null))
        {
            lengths.Fill(steps, job);
            done = list is null ? Even(segments - 1 - from, first) : Even(job, from, segments - 1, first, list);
            from = segments - 1;
        }

        return OneByOne(job, from, done, sink, list);
    }

    private Outcome OneByOne(int job, int from, Outcome done, ITaskRecorder? sink, TaskRecordList? list)
    {
        (long key, long finish, long busy, double area) = done;
        int segments = plan.Jobs[job].Segments;
        long[] keys = losers;
        for (int segment = from; segment < segments; segment++)
        {
            int node = (int)(key & NodeMask);
            long at = key >> NodeBits;
            long length = lengths.Of(node, job, segment, false);
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

        return new(key, finish, busy, area);
    }

    private Outcome Even(int count, long key)
    {
        long[] keys = losers;
        long[] ofNodes = steps;
        long busy = 0;
        double area = 0;
        long finish = 0;
        for (int i = 0; i < count; i++)
        {
            long length = ofNodes[key & NodeMask];
            key += length << NodeBits;
            long end = key >> NodeBits;
            busy += length;
            area += end;
            finish = Math.Max(finish, end);
            key = NodeTournament.ReplayEven(keys, key);
        }

        return new(key, finish, busy, area);
    }

    private Outcome Even(int job, int from, int until, long key, TaskRecordList list)
    {
        long[] keys = losers;
        long[] ofNodes = steps;
        long busy = 0;
        double area = 0;
        long finish = 0;
        for (int segment = from; segment < until; segment++)
        {
            int node = (int)(key & NodeMask);
            long at = key >> NodeBits;
            long length = ofNodes[node];
            long end = at + length;
            list.Ended(new TaskRecord(job, segment, 0, node, 0, at, end, TaskOutcome.Done));
            busy += length;
            area += end;
            finish = Math.Max(finish, end);
            key = NodeTournament.ReplayEven(keys, (end << NodeBits) | (uint)node);
        }

        return new(key, finish, busy, area);
    }
}
