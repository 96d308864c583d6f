namespace PostPipeline.Farms.Simulations;

/// <summary>Finds what is wrong with one job of a scenario.</summary>
internal static class JobChecks
{
    /// <summary>Adds what is wrong.</summary>
    /// <param name="job">The job.</param>
    /// <param name="j">Its place in the scenario.</param>
    /// <param name="s">The scenario.</param>
    /// <param name="projects">Projects there are; a scenario that names none has one.</param>
    /// <param name="problems">What was found.</param>
    public static void Find(FarmJob job, int j, FarmScenario s, int projects, ProblemList problems)
    {
        int classes = s.Classes.Count;
        int jobs = s.Jobs.Count;

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
}
