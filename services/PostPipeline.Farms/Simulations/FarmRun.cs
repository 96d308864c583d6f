namespace PostPipeline.Farms.Simulations;

/// <summary>
/// One replication: takes events in order, keeps nodes, jobs, licences and storage, and after all events of an instant
/// gives waiting tasks to idle nodes, the node that has been idle longest first and ties to the lowest number.
/// </summary>
internal sealed partial class FarmRun
{
    // How often a long run looks at its token.
    private const int EventsBetweenLooks = 4096;

    private readonly FarmPlan plan;
    private readonly FarmScenario scenario;
    private readonly EventQueue queue = new();
    private readonly NodeState[] nodes;
    private readonly JobState[] jobs;
    private readonly PairQueue[] idle;
    private readonly PairQueue[] lanes;
    private readonly int[] laneReady;
    private readonly int[] licencesFree;
    private readonly int[] projectRunning;
    private readonly SharedStorage[] pools;
    private readonly bool[] calendarOpen;
    private readonly double[] sharedFactor;
    private readonly List<RetryEntry> retries = [];
    private readonly Stack<int> freeRetries = new();
    private readonly Stack<int> finished = new();

    private long seed;
    private int replication;
    private ITaskRecorder? recorder;
    private long now;
    private int nextRelease;
    private int readyTasks;
    private int farmDown;
    private int outstanding;
    private int inSystem;
    private long[] finishes = [];

    private long tasksDone;
    private long failures;
    private long lost;
    private long dropped;
    private long setAside;
    private long busyTime;
    private long wastedTime;
    private double area;
    private long events;

    public FarmRun(FarmPlan plan)
    {
        this.plan = plan;
        scenario = plan.Scenario;
        nodes = new NodeState[plan.NodeClasses.Length];
        jobs = new JobState[plan.Jobs.Length];
        idle = [.. plan.TimeFactors.Select(_ => new PairQueue())];
        lanes = [.. plan.LaneClasses.Select(_ => new PairQueue())];
        laneReady = new int[lanes.Length];
        licencesFree = new int[scenario.Licences.Count];
        projectRunning = new int[plan.Weights.Length];
        pools = [.. scenario.Storage.Select(s => new SharedStorage(s.BytesPerSecond, s.LinkBytesPerSecond ?? double.PositiveInfinity, nodes.Length))];
        calendarOpen = new bool[plan.Calendars.Length];
        sharedFactor = new double[plan.Classes.Length];
    }

    public ReplicationResult Run(long runSeed, int runReplication, ITaskRecorder? runRecorder, CancellationToken token)
    {
        seed = runSeed;
        replication = runReplication;
        recorder = runRecorder;
        Reset();
        token.ThrowIfCancellationRequested();
        int look = 0;
        while (outstanding > 0)
        {
            long next = NextTime();
            if (next > scenario.HorizonMicroseconds)
            {
                break;
            }

            area += inSystem * (double)(next - now);
            now = next;
            HandleInstant();
            Dispatch();
            if (++look >= EventsBetweenLooks)
            {
                look = 0;
                token.ThrowIfCancellationRequested();
            }
        }

        return Result();
    }

    private void Reset()
    {
        queue.Clear();
        now = 0;
        nextRelease = 0;
        readyTasks = 0;
        farmDown = 0;
        inSystem = 0;
        tasksDone = failures = lost = dropped = setAside = busyTime = wastedTime = events = 0;
        area = 0;
        retries.Clear();
        freeRetries.Clear();
        Array.Clear(laneReady);
        Array.Clear(projectRunning);
        Array.ForEach(lanes, l => l.Clear());
        Array.ForEach(idle, i => i.Clear());
        Array.ForEach(pools, p => p.Clear());
        for (int i = 0; i < licencesFree.Length; i++)
        {
            licencesFree[i] = scenario.Licences[i].Count;
        }

        for (int c = 0; c < sharedFactor.Length; c++)
        {
            sharedFactor[c] = FarmDraws.SharedFactor(plan, seed, replication, c);
        }

        finishes = new long[plan.OwnJobs];
        Array.Fill(finishes, -1);
        outstanding = plan.OwnJobs;
        for (int j = 0; j < jobs.Length; j++)
        {
            jobs[j] = new JobState { RetryHead = -1, RetryTail = -1, Missing = plan.Jobs[j].Predecessors + 1, NextSegment = plan.Jobs[j].Running, Limit = plan.Jobs[j].Segments, Remaining = plan.Jobs[j].Segments };
        }

        ResetNodes();
        ResetRunning();
    }

    private long NextTime()
    {
        long next = queue.NextTime;
        if (nextRelease < plan.Releases.Length)
        {
            next = Math.Min(next, plan.Jobs[plan.Releases[nextRelease]].Release);
        }

        foreach (SharedStorage pool in pools)
        {
            next = Math.Min(next, pool.NextTime);
        }

        return next;
    }

    private void HandleInstant()
    {
        foreach (SharedStorage pool in pools)
        {
            if (pool.NextTime == now)
            {
                while (pool.TryFinish(now, out int node))
                {
                    events++;
                    TransferOver(node);
                }
            }
        }

        while (queue.NextTime == now)
        {
            FarmEvent happening = queue.Take();
            events++;
            switch (happening.Kind)
            {
                case EventKind.Task:
                    if (nodes[happening.Index].Ticket == happening.Order)
                    {
                        StepOver(happening.Index);
                    }

                    break;
                case EventKind.Calendar:
                    TurnCalendar(happening.Index);
                    break;
                case EventKind.NodeDown:
                    NodeDown(happening.Index);
                    break;
                case EventKind.NodeUp:
                    NodeUp(happening.Index);
                    break;
                case EventKind.FarmDown:
                    FarmDown();
                    break;
                case EventKind.FarmUp:
                    FarmUp();
                    break;
                default:
                    Requeue(happening.Index);
                    break;
            }
        }

        while (nextRelease < plan.Releases.Length && plan.Jobs[plan.Releases[nextRelease]].Release <= now)
        {
            events++;
            Arrived(plan.Releases[nextRelease++]);
        }
    }

    private ReplicationResult Result() => new()
    {
        JobFinishes = finishes,
        Finish = finishes.Length == 0 ? 0 : outstanding > 0 ? null : finishes.Max(),
        TasksDone = tasksDone,
        Failures = failures,
        Lost = lost,
        Dropped = dropped,
        SetAside = setAside,
        BusyMicroseconds = busyTime,
        WastedMicroseconds = wastedTime,
        TaskMicroseconds = area,
        Events = events,
    };
}
