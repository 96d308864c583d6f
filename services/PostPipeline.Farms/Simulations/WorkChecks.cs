namespace PostPipeline.Farms.Simulations;

/// <summary>Finds what is wrong with the work of a scenario: its jobs, what they wait for, what competes with them, and all of it together.</summary>
internal static class WorkChecks
{
    public static void Find(FarmScenario s, ProblemList problems)
    {
        long tasks = 0;
        int projects = Math.Max(1, s.Projects.Count);
        bool forward = false;
        for (int j = 0; j < s.Jobs.Count && !problems.IsFull; j++)
        {
            FarmJob job = s.Jobs[j];
            int before = problems.Count;
            JobChecks.Find(job, j, s, projects, problems);
            for (int i = 0; i < job.After.Count && !forward; i++)
            {
                forward = job.After[i] > j;
            }

            if (problems.Count == before)
            {
                long segments = job.SegmentFrames == 0 ? 1 : (job.Frames + job.SegmentFrames - 1) / job.SegmentFrames;
                tasks += segments + 1;
                RunsSomewhere(s, job, j, problems);
            }
        }

        double competing = Competing(s, projects, problems);
        problems.Real("jobs", tasks + competing, 0, FarmScenarioLimits.MostTasks * 2.0, "tasks with joins and competing work");

        // Jobs that only wait for earlier ones of the list cannot wait in a circle.
        if (forward && problems.Count == 0)
        {
            JobCircles.Find(s.Jobs, problems);
        }
    }

    // How many jobs are expected to come.
    private static double Competing(FarmScenario s, int projects, ProblemList problems)
    {
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

        return competing;
    }

    private static void RunsSomewhere(FarmScenario s, FarmJob job, int j, ProblemList problems)
    {
        if (job.Frames == 0)
        {
            return;
        }

        for (int n = 0; n < s.Nodes.Count; n++)
        {
            if (s.Nodes[n].TimeFactors.Count == 0 || (job.Class < s.Nodes[n].TimeFactors.Count && s.Nodes[n].TimeFactors[job.Class] > 0))
            {
                return;
            }
        }

        problems.Add($"jobs[{j}].class", $"no node class can run '{s.Classes[job.Class].Name}'; allowed is a class with a time factor above 0 on at least one node class");
    }
}
