using PostPipeline.Flows;

namespace PostPipeline.Farms.Simulations;

/// <summary>Finds everything that is wrong with a scenario, not only the first thing.</summary>
internal sealed class ScenarioChecks
{
    private readonly ProblemList problems = new();

    public static IReadOnlyList<FarmProblem> Of(FarmScenario scenario)
    {
        ScenarioChecks checks = new();
        checks.Pools(scenario);
        checks.Nodes(scenario);
        checks.Classes(scenario);
        checks.Jobs(scenario);
        checks.Running(scenario);
        checks.Rules(scenario);
        return checks.problems.All;
    }

    private void Nodes(FarmScenario s)
    {
        problems.Range("nodes", s.Nodes.Count, 1, FarmScenarioLimits.MostClasses, "node classes");
        long nodes = 0;
        for (int i = 0; i < s.Nodes.Count; i++)
        {
            NodeClass n = s.Nodes[i];
            string at = $"nodes[{i}]";
            problems.Range($"{at}.count", n.Count, 0, FarmScenarioLimits.MostNodes);
            nodes += Math.Max(0, n.Count);
            if (n.TimeFactors.Count != 0 && n.TimeFactors.Count != s.Classes.Count)
            {
                problems.Add($"{at}.time_factors", $"there are {n.TimeFactors.Count}; allowed is none, or one for each of {s.Classes.Count} job classes");
            }

            for (int k = 0; k < n.TimeFactors.Count; k++)
            {
                problems.Real($"{at}.time_factors[{k}]", n.TimeFactors[k], 0, 1e6);
            }

            problems.Real($"{at}.slow_probability", n.SlowProbability, 0, 1);
            problems.Real($"{at}.slow_factor_low", n.SlowFactorLow, 1, 1e3);
            problems.Real($"{at}.slow_factor_high", n.SlowFactorHigh, n.SlowFactorLow, 1e3);
            problems.Range($"{at}.mean_up_microseconds", n.MeanUpMicroseconds, 0, FarmClock.Longest);
            problems.Range($"{at}.mean_down_microseconds", n.MeanDownMicroseconds, 0, FarmClock.Longest);
            Calendar($"{at}.open", n.Open);
        }

        problems.Range("nodes", nodes, 0, FarmScenarioLimits.MostNodes, "nodes in all classes");
        for (int i = 0; i < s.Maintenance.Count; i++)
        {
            Maintenance m = s.Maintenance[i];
            problems.Index($"maintenance[{i}].node_class", m.NodeClass, s.Nodes.Count, "node classes");
            problems.Range($"maintenance[{i}].nodes", m.Nodes, 0, FarmScenarioLimits.MostNodes);
            problems.Range($"maintenance[{i}].until_microseconds", m.UntilMicroseconds, m.FromMicroseconds, FarmClock.Longest);
        }
    }

    private void Pools(FarmScenario s)
    {
        problems.Range("licences", s.Licences.Count, 0, FarmScenarioLimits.MostClasses, "licence pools");
        problems.Range("storage", s.Storage.Count, 0, FarmScenarioLimits.MostClasses, "storage pools");
        problems.Range("projects", s.Projects.Count, 0, FarmScenarioLimits.MostProjects, "projects");
        for (int i = 0; i < s.Licences.Count; i++)
        {
            problems.Range($"licences[{i}].count", s.Licences[i].Count, 1, int.MaxValue);
        }

        for (int i = 0; i < s.Storage.Count; i++)
        {
            problems.Real($"storage[{i}].bytes_per_second", s.Storage[i].BytesPerSecond, 1, 1e15);
            problems.Real($"storage[{i}].link_bytes_per_second", s.Storage[i].LinkBytesPerSecond ?? 1, 1, 1e15);
        }

        for (int i = 0; i < s.Projects.Count; i++)
        {
            problems.Real($"projects[{i}].weight", s.Projects[i].Weight, 1e-6, 1e6);
        }
    }

    private void Classes(FarmScenario s)
    {
        problems.Range("classes", s.Classes.Count, 1, FarmScenarioLimits.MostClasses, "job classes");
        for (int i = 0; i < s.Classes.Count; i++)
        {
            JobClass c = s.Classes[i];
            string at = $"classes[{i}]";
            if (c.Licence is int licence)
            {
                problems.Index($"{at}.licence", licence, s.Licences.Count, "licence pools");
            }

            if (c.Storage is int storage)
            {
                problems.Index($"{at}.storage", storage, s.Storage.Count, "storage pools");
            }

            problems.Range($"{at}.error_group", c.ErrorGroup ?? 0, 0, 1_000_000);
            problems.Real($"{at}.overlap", c.Overlap, 0, 1);
            problems.Real($"{at}.task_log_sd", c.TaskLogSd, 0, 3);
            problems.Real($"{at}.shared_log_sd", c.SharedLogSd, 0, 3);
            problems.Real($"{at}.failure_probability", c.FailureProbability, 0, 0.99);
            problems.Real($"{at}.failure_point", c.FailurePoint, 0, 1);
            problems.Real($"{at}.broken_probability", c.BrokenProbability, 0, 1);
            problems.Range($"{at}.retry_cap", c.RetryCap, 1, 1_000);
        }
    }

    private void Jobs(FarmScenario s)
    {
        long tasks = 0;
        int projects = Math.Max(1, s.Projects.Count);
        bool forward = false;
        for (int j = 0; j < s.Jobs.Count && !problems.IsFull; j++)
        {
            FarmJob job = s.Jobs[j];
            int before = problems.Count;
            Job(job, s.Classes.Count, projects, s.Jobs.Count, j);
            for (int i = 0; i < job.After.Count && !forward; i++)
            {
                forward = job.After[i] > j;
            }

            if (problems.Count == before)
            {
                long segments = job.SegmentFrames == 0 ? 1 : (job.Frames + job.SegmentFrames - 1) / job.SegmentFrames;
                tasks += segments + 1;
                RunsSomewhere(s, job.Class, $"jobs[{j}].class", job.Frames);
            }
        }

        double competing = 0;
        for (int i = 0; i < s.Competing.Count; i++)
        {
            CompetingLoad load = s.Competing[i];
            string at = $"competing[{i}]";
            problems.Index($"{at}.class", load.Class, s.Classes.Count, "job classes");
            problems.Index($"{at}.project", load.Project, projects, "projects");
            problems.Range($"{at}.priority", load.Priority, -FarmScenarioLimits.MostPriority, FarmScenarioLimits.MostPriority);
            problems.Range($"{at}.from_microseconds", load.FromMicroseconds, 0, FarmClock.Longest);
            problems.Range($"{at}.until_microseconds", load.UntilMicroseconds, load.FromMicroseconds, FarmClock.Longest);
            problems.Real($"{at}.jobs_per_hour", load.JobsPerHour, 1e-9, 1e9);
            problems.Real($"{at}.mean_seconds", load.MeanSeconds, 1e-6, 1e9);
            problems.Real($"{at}.squared_variation", load.SquaredVariation, 0, 1e3);
            competing += load.JobsPerHour * FarmClock.ToHours(load.UntilMicroseconds - load.FromMicroseconds);
        }

        problems.Real("jobs", tasks + competing, 0, FarmScenarioLimits.MostTasks * 2.0, "tasks with joins and competing work");

        // Jobs that only wait for earlier ones of the list cannot wait in a circle.
        if (forward && problems.Count == 0)
        {
            Cycles(s.Jobs);
        }
    }

    private void Job(FarmJob job, int classes, int projects, int jobs, int j)
    {
        // The usual job has nothing wrong, and its path is text that nobody reads: test first, name afterwards.
        if (job.Class < 0 || job.Class >= classes)
        {
            problems.Index($"jobs[{j}].class", job.Class, classes, "job classes");
        }

        if (job.Project < 0 || job.Project >= projects)
        {
            problems.Index($"jobs[{j}].project", job.Project, projects, "projects");
        }

        if (Math.Abs((long)job.Priority) > FarmScenarioLimits.MostPriority)
        {
            problems.Range($"jobs[{j}].priority", job.Priority, -FarmScenarioLimits.MostPriority, FarmScenarioLimits.MostPriority);
        }

        if (job.ReleaseMicroseconds is < 0 or > FarmClock.Longest)
        {
            problems.Range($"jobs[{j}].release_microseconds", job.ReleaseMicroseconds, 0, FarmClock.Longest);
        }

        if (job.Frames is < 0 or > FarmScenarioLimits.MostFrames)
        {
            problems.Range($"jobs[{j}].frames", job.Frames, 0, FarmScenarioLimits.MostFrames);
        }

        if (job.SegmentFrames is < 0 or > FarmScenarioLimits.MostFrames)
        {
            problems.Range($"jobs[{j}].segment_frames", job.SegmentFrames, 0, FarmScenarioLimits.MostFrames);
        }

        if (job.PreRollFrames is < 0 or > FarmScenarioLimits.MostFrames)
        {
            problems.Range($"jobs[{j}].pre_roll_frames", job.PreRollFrames, 0, FarmScenarioLimits.MostFrames);
        }

        if (!(job.SecondsPerFrame is >= 0 and <= 1e7))
        {
            problems.Real($"jobs[{j}].seconds_per_frame", job.SecondsPerFrame, 0, 1e7);
        }

        if (!(job.OverheadSeconds is >= 0 and <= 1e7))
        {
            problems.Real($"jobs[{j}].overhead_seconds", job.OverheadSeconds, 0, 1e7);
        }

        if (!(job.JoinSecondsPerFrame is null or (>= 0 and <= 1e7)))
        {
            problems.Real($"jobs[{j}].join_seconds_per_frame", job.JoinSecondsPerFrame ?? 0, 0, 1e7);
        }

        if (!((job.Frames + (double)job.PreRollFrames) * job.SecondsPerFrame <= 1e9))
        {
            problems.Add($"jobs[{j}].seconds_per_frame", $"the job is {job.Frames * job.SecondsPerFrame:0} s on one node; allowed is 0 to 1,000,000,000 s");
        }

        if (job.ReadBytesPerFrame is < 0 or > 1_000_000_000_000 || job.WriteBytesPerFrame is < 0 or > 1_000_000_000_000)
        {
            problems.Range($"jobs[{j}].read_bytes_per_frame", job.ReadBytesPerFrame, 0, 1_000_000_000_000);
            problems.Range($"jobs[{j}].write_bytes_per_frame", job.WriteBytesPerFrame, 0, 1_000_000_000_000);
        }

        for (int i = 0; i < job.After.Count; i++)
        {
            if (job.After[i] < 0 || job.After[i] >= jobs || job.After[i] == j)
            {
                problems.Add($"jobs[{j}].after[{i}]", $"{job.After[i]} is not another job; allowed is 0 to {jobs - 1}, not {j}");
            }
        }
    }

    private void Running(FarmScenario s)
    {
        long nodes = s.Nodes.Sum(n => (long)Math.Max(0, n.Count));
        HashSet<int> held = [];
        for (int i = 0; i < s.Running.Count && !problems.IsFull; i++)
        {
            RunningTask r = s.Running[i];
            string at = $"running[{i}]";
            problems.Index($"{at}.job", r.Job, s.Jobs.Count, "jobs");
            if (r.Node < 0 || r.Node >= nodes || !held.Add(r.Node))
            {
                problems.Add($"{at}.node", $"{r.Node}; allowed is 0 to {nodes - 1}, each node once");
            }

            problems.Range($"{at}.frames", r.Frames, 1, FarmScenarioLimits.MostFrames);
            problems.Range($"{at}.elapsed_microseconds", r.ElapsedMicroseconds, 0, FarmClock.Longest);
        }
    }

    private void RunsSomewhere(FarmScenario s, int jobClass, string path, long frames)
    {
        if (frames == 0)
        {
            return;
        }

        for (int n = 0; n < s.Nodes.Count; n++)
        {
            if (s.Nodes[n].TimeFactors.Count == 0 || (jobClass < s.Nodes[n].TimeFactors.Count && s.Nodes[n].TimeFactors[jobClass] > 0))
            {
                return;
            }
        }

        problems.Add(path, $"no node class can run '{s.Classes[jobClass].Name}'; allowed is a class with a time factor above 0 on at least one node class");
    }

    private void Rules(FarmScenario s)
    {
        if (s.NightFailure is not null)
        {
            problems.Real("night_failure.probability", s.NightFailure.Probability, 0, 1);
            Calendar("night_failure.nights", s.NightFailure.Nights);
        }

        Calendar("attended", s.Attended);
        problems.Range("mend_microseconds", s.MendMicroseconds, 0, FarmClock.Longest);
        problems.Range("horizon_microseconds", s.HorizonMicroseconds, 1, FarmClock.Longest);
    }

    // Kahn's order: what is left when no job without open predecessors remains lies on a cycle.
    private void Cycles(IReadOnlyList<FarmJob> jobs)
    {
        int[] open = [.. jobs.Select(j => j.After.Count)];
        List<int>[] followers = [.. jobs.Select(_ => new List<int>())];
        for (int j = 0; j < jobs.Count; j++)
        {
            foreach (int before in jobs[j].After)
            {
                followers[before].Add(j);
            }
        }

        Queue<int> ready = new(Enumerable.Range(0, jobs.Count).Where(j => open[j] == 0));
        int done = 0;
        while (ready.TryDequeue(out int j))
        {
            done++;
            foreach (int next in followers[j])
            {
                if (--open[next] == 0)
                {
                    ready.Enqueue(next);
                }
            }
        }

        if (done < jobs.Count)
        {
            int stuck = Array.FindIndex(open, o => o > 0);
            problems.Add($"jobs[{stuck}].after", "the jobs wait for each other in a circle; allowed is an order in which each can start");
        }
    }

    private void Calendar(string path, Windows? windows) =>
        problems.Range(path, windows?.Count ?? 0, 0, FarmScenarioLimits.MostWindows, "windows");
}
