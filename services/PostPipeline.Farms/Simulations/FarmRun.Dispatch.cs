namespace PostPipeline.Farms.Simulations;

/// <content>Which node takes which task.</content>
internal sealed partial class FarmRun
{
    // Failures of a second copy are drawn from blocks that no ordinary attempt reaches.
    private const int CopyBlocks = 1 << 20;

    private void Dispatch()
    {
        while (readyTasks > 0)
        {
            int bestClass = -1;
            int bestLane = -1;
            long since = long.MaxValue;
            long number = long.MaxValue;
            for (int c = 0; c < idle.Length; c++)
            {
                if (!CleanIdle(c))
                {
                    continue;
                }

                ref readonly var first = ref idle[c].First;
                if (first.Key > since || (first.Key == since && first.Tie > number))
                {
                    continue;
                }

                int lane = BestLane(c);
                if (lane >= 0)
                {
                    (bestClass, bestLane, since, number) = (c, lane, first.Key, first.Tie);
                }
            }

            if (bestClass < 0)
            {
                break;
            }

            int node = idle[bestClass].First.Value;
            idle[bestClass].RemoveFirst();
            Take(node, bestLane);
        }

        if (scenario.DuplicateTail)
        {
            StartCopies();
        }
    }

    // Entries of nodes that have closed, gone down or been busy since are passed over.
    private bool CleanIdle(int nodeClass)
    {
        PairQueue queueOfClass = idle[nodeClass];
        while (queueOfClass.Count > 0)
        {
            ref readonly var first = ref queueOfClass.First;
            if (IsIdle(first.Value) && nodes[first.Value].IdleSince == first.Key)
            {
                return true;
            }

            queueOfClass.RemoveFirst();
        }

        return false;
    }

    private int BestLane(int nodeClass)
    {
        double[] factors = plan.TimeFactors[nodeClass];
        int best = -1;
        double bestShare = 0;
        for (int l = 0; l < lanes.Length; l++)
        {
            if (laneReady[l] == 0 || factors[plan.LaneClasses[l]] <= 0)
            {
                continue;
            }

            int licence = plan.Classes[plan.LaneClasses[l]].Licence;
            if (licence >= 0 && licencesFree[licence] == 0)
            {
                continue;
            }

            double share = scenario.Sharing == SharingRule.Fair ? projectRunning[plan.LaneProjects[l]] / plan.Weights[plan.LaneProjects[l]] : 0;
            if (best >= 0)
            {
                ref readonly var mine = ref lanes[l].First;
                ref readonly var theirs = ref lanes[best].First;
                bool first = mine.Key < theirs.Key || (mine.Key == theirs.Key && mine.Tie < theirs.Tie);
                if (share > bestShare || (share == bestShare && !first))
                {
                    continue;
                }
            }

            best = l;
            bestShare = share;
        }

        return best;
    }

    private void Take(int node, int lane)
    {
        int job = lanes[lane].First.Value;
        ref JobState state = ref jobs[job];
        ref NodeState n = ref nodes[node];
        n.Job = job;
        n.Twin = -1;
        if (state.RetryHead >= 0)
        {
            int entry = state.RetryHead;
            RetryEntry retry = retries[entry];
            state.RetryHead = retry.Next;
            freeRetries.Push(entry);
            n.Segment = retry.Segment;
            n.Attempt = retry.Attempt;
            n.Excused = retry.Excused;
            n.Mended = retry.Mended;
            n.Ready = retry.Ready;
        }
        else
        {
            n.Segment = state.NextSegment++;
            n.Attempt = 0;
            n.Excused = 0;
            n.Mended = false;
            n.Ready = state.ReadyAt;
        }

        laneReady[lane]--;
        readyTasks--;
        if (state.RetryHead < 0 && state.NextSegment == state.Limit)
        {
            state.Waiting = false;
            lanes[lane].RemoveFirst();
        }

        Begin(node, lane, n.Attempt);
    }

    private void StartCopies()
    {
        for (int c = 0; c < idle.Length; c++)
        {
            while (CleanIdle(c) && BestLane(c) < 0)
            {
                int original = OldestAlone(c);
                if (original < 0)
                {
                    break;
                }

                int node = idle[c].First.Value;
                idle[c].RemoveFirst();
                ref NodeState n = ref nodes[node];
                ref NodeState o = ref nodes[original];
                n.Job = o.Job;
                n.Segment = o.Segment;
                n.Attempt = o.Attempt;
                n.Excused = o.Excused;
                n.Mended = o.Mended;
                n.Ready = now;
                n.Twin = original;
                o.Twin = node;
                Begin(node, plan.Jobs[o.Job].Lane, CopyBlocks + o.Attempt);
            }
        }
    }

    private int OldestAlone(int nodeClass)
    {
        int oldest = -1;
        for (int i = 0; i < nodes.Length; i++)
        {
            ref readonly NodeState n = ref nodes[i];
            if (!n.Busy || n.Twin >= 0 || n.Attempt > n.Excused || n.Start == now || (oldest >= 0 && n.Start >= nodes[oldest].Start))
            {
                continue;
            }

            int jobClass = plan.Jobs[n.Job].Class;
            int licence = plan.Classes[jobClass].Licence;
            if (plan.TimeFactors[nodeClass][jobClass] > 0 && (licence < 0 || licencesFree[licence] > 0))
            {
                oldest = i;
            }
        }

        return oldest;
    }

    private void Begin(int node, int lane, int failureBlock)
    {
        ref NodeState n = ref nodes[node];
        ref readonly PlannedJob job = ref plan.Jobs[n.Job];
        ref readonly PlannedClass kind = ref plan.Classes[job.Class];
        n.Busy = true;
        n.Paused = false;
        n.Start = now;
        projectRunning[plan.LaneProjects[lane]]++;
        if (kind.Licence >= 0)
        {
            licencesFree[kind.Licence]--;
        }

        int task = job.FirstTask + n.Segment;
        (double work, double bytes) = Amounts(node, kind.TaskLogSd > 0 ? FarmDraws.TaskFactor(seed, replication, task, kind.TaskLogSd) : 1);
        double overhead = job.Overhead;
        double share = 1;
        n.Fails = kind.CanFail && FarmDraws.Fails(seed, replication, kind, task, failureBlock, n.Mended);
        if (n.Fails)
        {
            share = kind.FailurePoint;
            work *= share;
            overhead *= share;
        }

        bytes *= share;
        n.Bytes = bytes;
        n.Compute = work;
        if (bytes > 0)
        {
            n.Phase = AttemptPhase.Overhead;
            if (overhead > 0)
            {
                Await(node, (long)(overhead + 0.5));
            }
            else
            {
                MoveFirst(node);
            }

            return;
        }

        n.Phase = AttemptPhase.Work;
        n.TransferDone = true;
        n.ComputeDone = false;
        Await(node, (long)(overhead + 0.5) + (long)(work + 0.5));
    }

    // The work in microseconds and the bytes of the attempt that a node holds.
    private (double Work, double Bytes) Amounts(int node, double taskFactor)
    {
        ref readonly NodeState n = ref nodes[node];
        ref readonly PlannedJob job = ref plan.Jobs[n.Job];
        ref readonly PlannedClass kind = ref plan.Classes[job.Class];
        bool join = n.Segment == job.Segments;
        long frames;
        long rendered;
        if (join)
        {
            frames = rendered = job.Frames;
        }
        else if (n.Segment < job.Running)
        {
            frames = rendered = plan.RunningTasks[job.RunningFrom + n.Segment].Frames;
        }
        else
        {
            long before = (n.Segment - job.Running) * job.SegmentFrames;
            frames = Math.Min(job.SegmentFrames, job.Frames - before);
            rendered = frames + Math.Min(job.PreRoll, before);
        }

        double work = rendered * (join ? job.JoinMicrosecondsPerFrame : job.MicrosecondsPerFrame)
            * plan.TimeFactors[plan.NodeClasses[node]][job.Class] * n.SlowFactor * sharedFactor[job.Class];
        if (kind.TaskLogSd > 0)
        {
            work *= taskFactor;
        }

        double bytes = kind.Storage < 0 ? 0 : join
            ? 2 * frames * job.WriteBytesPerFrame
            : (rendered * job.ReadBytesPerFrame) + (frames * job.WriteBytesPerFrame);
        return (work, bytes);
    }

    private void Await(int node, long length)
    {
        ref NodeState n = ref nodes[node];
        n.Due = now + length;
        n.Ticket = queue.Add(n.Due, EventKind.Task, node);
    }
}
