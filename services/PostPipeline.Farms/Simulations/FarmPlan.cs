using PostPipeline.Flows;

namespace PostPipeline.Farms.Simulations;

/// <summary>A scenario laid out in arrays, shared by every replication and never changed.</summary>
internal sealed class FarmPlan
{
    /// <summary>Bits of a rank that hold the release; above them stands the priority, turned round.</summary>
    private const int ReleaseBits = 51;

    // Enough for every node that a scenario may hold.
    private const int NodeBits = 17;

    public FarmPlan(FarmScenario scenario)
        : this(scenario, scenario.Jobs)
    {
    }

    /// <summary>Lays out a scenario with more jobs than its own at the end of the list.</summary>
    public FarmPlan(FarmScenario scenario, IReadOnlyList<FarmJob> jobs)
    {
        Scenario = scenario;
        OwnJobs = scenario.Jobs.Count;
        Classes = [.. scenario.Classes.Select(Plan)];
        for (int c = 0; c < Classes.Length; c++)
        {
            Classes[c].ErrorEntity = scenario.Classes[c].ErrorGroup is int group ? FarmScenarioLimits.MostClasses + group : c;
        }

        Weights = scenario.Projects.Count == 0 ? [1] : [.. scenario.Projects.Select(p => p.Weight)];
        TimeFactors = new double[scenario.Nodes.Count][];
        for (int c = 0; c < TimeFactors.Length; c++)
        {
            NodeClass node = scenario.Nodes[c];
            TimeFactors[c] = node.TimeFactors.Count == 0 ? [.. Enumerable.Repeat(1.0, Classes.Length)] : [.. node.TimeFactors];
        }

        (NodeClasses, NodeCalendars, Calendars) = PlanNodes(scenario);
        NodeEntities = new int[NodeClasses.Length];
        for (int n = 0, first = 0; n < NodeClasses.Length; n++)
        {
            first = n > 0 && NodeClasses[n] != NodeClasses[n - 1] ? n : first;
            NodeEntities[n] = (NodeClasses[n] << NodeBits) + (n - first);
        }

        NodesOfCalendar = new int[Calendars.Length][];
        for (int c = 0; c < Calendars.Length; c++)
        {
            NodesOfCalendar[c] = [.. Enumerable.Range(0, NodeCalendars.Length).Where(n => NodeCalendars[n] == c)];
        }

        Jobs = new PlannedJob[jobs.Count];
        RunningTasks = [.. scenario.Running.Select((r, i) => (r, i)).OrderBy(x => x.r.Job).ThenBy(x => x.i).Select(x => x.r)];
        Followers = PlanJobs(jobs);
        (LaneClasses, LaneProjects) = PlanLanes(jobs);
        Releases = [.. Enumerable.Range(0, jobs.Count)];
        bool ascending = true;
        for (int j = 1; j < Jobs.Length && ascending; j++)
        {
            ascending = Jobs[j - 1].Release <= Jobs[j].Release;
        }

        if (!ascending)
        {
            Releases = [.. Releases.OrderBy(j => Jobs[j].Release)];
        }
    }

    public FarmScenario Scenario { get; }

    /// <summary>Jobs of the scenario; those after them are competing work.</summary>
    public int OwnJobs { get; }

    public PlannedJob[] Jobs { get; }

    public PlannedClass[] Classes { get; }

    /// <summary>Weights of the projects.</summary>
    public double[] Weights { get; }

    /// <summary>By node class, then job class; 0 cannot run it.</summary>
    public double[][] TimeFactors { get; }

    /// <summary>The class of each node.</summary>
    public int[] NodeClasses { get; }

    /// <summary>The calendar of each node.</summary>
    public int[] NodeCalendars { get; }

    /// <summary>A number for each node that stays its own when other classes grow, for its random numbers.</summary>
    public int[] NodeEntities { get; }

    public Windows[] Calendars { get; }

    public int[][] NodesOfCalendar { get; }

    /// <summary>Tasks under way, job by job.</summary>
    public RunningTask[] RunningTasks { get; }

    /// <summary>Jobs in order of release, equal releases in the order of the list.</summary>
    public int[] Releases { get; }

    /// <summary>The job class of each lane: waiting jobs of one project and one class.</summary>
    public int[] LaneClasses { get; }

    public int[] LaneProjects { get; }

    /// <summary>Jobs that wait for a job, in the range that the job names.</summary>
    public int[] Followers { get; }

    /// <summary>Tasks of a job, its join apart.</summary>
    public static int SegmentsOf(FarmJob job) =>
        job.Frames == 0 ? 0 : job.SegmentFrames == 0 ? 1 : checked((int)((job.Frames + job.SegmentFrames - 1) / job.SegmentFrames));

    private static PlannedClass Plan(JobClass c) => new()
    {
        Licence = c.Licence ?? -1,
        Storage = c.Storage ?? -1,
        Overlap = c.Overlap,
        TaskLogSd = c.TaskLogSd,
        SharedLogSd = c.SharedLogSd,
        FailureProbability = c.FailureProbability,
        FailurePoint = c.FailurePoint,
        BrokenProbability = c.BrokenProbability,
        RetryCap = c.RetryCap,
        CanFail = c.FailureProbability > 0 || c.BrokenProbability > 0,
    };

    // Nodes of one class share a calendar unless maintenance takes some of them.
    private static (int[] Classes, int[] Calendars, Windows[] All) PlanNodes(FarmScenario scenario)
    {
        List<int> classes = [];
        List<int> calendars = [];
        List<Windows> all = [];
        for (int c = 0; c < scenario.Nodes.Count; c++)
        {
            NodeClass nodes = scenario.Nodes[c];
            Windows open = nodes.Open ?? Windows.Always;
            Maintenance[] outs = [.. scenario.Maintenance.Where(m => m.NodeClass == c && m.Nodes > 0)];
            Dictionary<string, int> known = [];
            for (int n = 0; n < nodes.Count; n++)
            {
                Maintenance[] hit = [.. outs.Where(m => n >= nodes.Count - m.Nodes)];
                string key = string.Join(';', hit.Select(m => $"{m.FromMicroseconds}-{m.UntilMicroseconds}"));
                if (!known.TryGetValue(key, out int calendar))
                {
                    calendar = all.Count;
                    known.Add(key, calendar);
                    all.Add(hit.Length == 0 ? open : open.Except(Windows.From(hit.Select(m => (m.FromMicroseconds, m.UntilMicroseconds)))));
                }

                classes.Add(c);
                calendars.Add(calendar);
            }
        }

        return ([.. classes], [.. calendars], [.. all]);
    }

    private (int[] Classes, int[] Projects) PlanLanes(IReadOnlyList<FarmJob> jobs)
    {
        Dictionary<(int Project, int Class), int> lanes = [];
        for (int j = 0; j < jobs.Count; j++)
        {
            var key = (jobs[j].Project, jobs[j].Class);
            if (!lanes.TryGetValue(key, out int lane))
            {
                lane = lanes.Count;
                lanes.Add(key, lane);
            }

            Jobs[j].Lane = lane;
        }

        return ([.. lanes.Keys.Select(k => k.Class)], [.. lanes.Keys.Select(k => k.Project)]);
    }

    private int[] PlanJobs(IReadOnlyList<FarmJob> jobs)
    {
        int firstTask = 0;
        int running = 0;
        int[] followers = new int[jobs.Count];
        int links = 0;
        for (int j = 0; j < jobs.Count; j++)
        {
            FarmJob job = jobs[j];
            int runningFrom = running;
            while (running < RunningTasks.Length && RunningTasks[running].Job == j)
            {
                running++;
            }

            int segments = SegmentsOf(job) + running - runningFrom;
            Jobs[j] = new PlannedJob
            {
                Class = job.Class,
                Rank = ((FarmScenarioLimits.MostPriority - (long)job.Priority) << ReleaseBits) + job.ReleaseMicroseconds,
                Release = job.ReleaseMicroseconds,
                Segments = segments,
                Running = running - runningFrom,
                RunningFrom = runningFrom,
                FirstTask = firstTask,
                Frames = job.Frames,
                SegmentFrames = job.SegmentFrames == 0 ? job.Frames : job.SegmentFrames,
                PreRoll = job.PreRollFrames,
                Overhead = FarmClock.FromSeconds(job.OverheadSeconds),
                MicrosecondsPerFrame = job.SecondsPerFrame * FarmClock.MicrosecondsPerSecond,
                ReadBytesPerFrame = job.ReadBytesPerFrame,
                WriteBytesPerFrame = job.WriteBytesPerFrame,
                HasJoin = job.JoinSecondsPerFrame is not null && segments > 0,
                JoinMicrosecondsPerFrame = (job.JoinSecondsPerFrame ?? 0) * FarmClock.MicrosecondsPerSecond,
                Predecessors = job.After.Count,
            };
            firstTask = checked(firstTask + segments + (Jobs[j].HasJoin ? 1 : 0));
            foreach (int before in job.After)
            {
                followers[before]++;
                links++;
            }
        }

        int from = 0;
        for (int j = 0; j < jobs.Count; j++)
        {
            Jobs[j].FollowersFrom = from;
            Jobs[j].FollowersUntil = from;
            from += followers[j];
        }

        int[] all = new int[links];
        for (int j = 0; j < jobs.Count; j++)
        {
            foreach (int before in jobs[j].After)
            {
                all[Jobs[before].FollowersUntil++] = j;
            }
        }

        return all;
    }
}
