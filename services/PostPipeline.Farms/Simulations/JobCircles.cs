namespace PostPipeline.Farms.Simulations;

/// <summary>
/// Finds jobs that wait for each other in a circle. Kahn's order: what is left when no job without open predecessors
/// remains lies on a circle or behind one.
/// </summary>
internal static class JobCircles
{
    public static void Find(IReadOnlyList<FarmJob> jobs, ProblemList problems)
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
}
