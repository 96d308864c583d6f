namespace PostPipeline.Farms.Simulations;

/// <summary>Finds everything that is wrong with a scenario, not only the first thing.</summary>
internal static class ScenarioChecks
{
    public static IReadOnlyList<FarmProblem> Of(FarmScenario scenario)
    {
        ProblemList problems = new();
        Pools(scenario, problems);
        NodeChecks.Find(scenario, problems);
        Classes(scenario, problems);
        WorkChecks.Find(scenario, problems);
        Running(scenario, problems);
        Rules(scenario, problems);
        return problems.All;
    }

    private static void Pools(FarmScenario s, ProblemList problems)
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

    private static void Classes(FarmScenario s, ProblemList problems)
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

    private static void Running(FarmScenario s, ProblemList problems)
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

    private static void Rules(FarmScenario s, ProblemList problems)
    {
        if (s.NightFailure is not null)
        {
            problems.Real("night_failure.probability", s.NightFailure.Probability, 0, 1);
            problems.Calendar("night_failure.nights", s.NightFailure.Nights);
        }

        problems.Calendar("attended", s.Attended);
        problems.Range("mend_microseconds", s.MendMicroseconds, 0, FarmClock.Longest);
        problems.Range("horizon_microseconds", s.HorizonMicroseconds, 1, FarmClock.Longest);
    }
}
