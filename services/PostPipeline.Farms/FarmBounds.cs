using PostPipeline.Farms.Simulations;
using PostPipeline.Flows;

namespace PostPipeline.Farms;

/// <summary>
/// Instants before which no schedule can end when every task takes its median time and nothing fails, microseconds. They
/// stand beside every simulated answer: a finish near one of them says what would have to change.
/// </summary>
/// <param name="TotalWork">All work spread evenly over all open nodes; null where the windows are too short for it.</param>
/// <param name="LongestTask">The longest chain: release, longest segment on the fastest node, join, then the jobs that wait for it.</param>
/// <param name="Licences">The work that needs the scarcest licence ÷ its licences; 0 where none are needed.</param>
/// <param name="Storage">Bytes to move ÷ bandwidth of the busiest storage; 0 where none is shared.</param>
public sealed record FarmBounds(long? TotalWork, long LongestTask, long Licences, long Storage)
{
    // The instants after which work is summed; a long list of releases is thinned, which only loosens the bound.
    private const int MostReleases = 200;

    /// <summary>The latest of the bounds; null where the windows are too short.</summary>
    public long? Latest => TotalWork is long work ? Math.Max(Math.Max(work, LongestTask), Math.Max(Licences, Storage)) : null;

    /// <summary>The bounds of a scenario, competing work and tasks under way left out.</summary>
    /// <param name="scenario">A scenario without problems.</param>
    public static FarmBounds Of(FarmScenario scenario)
    {
        FarmPlan plan = new(scenario);
        double[] best = [.. Enumerable.Range(0, plan.Classes.Length).Select(k => plan.TimeFactors.Where((f, c) => scenario.Nodes[c].Count > 0 && f[k] > 0).Select(f => f[k]).DefaultIfEmpty(double.PositiveInfinity).Min())];
        return new(TotalWorkBound(plan, best), LongestChain(plan, best), LicenceBound(plan, best), StorageBound(plan));
    }

    /// <summary>
    /// Nodes of one class by plain division: the work that the other classes leave, ÷ what one node of the class does from
    /// time 0 to an instant. Unrounded; infinite where the class is never open.
    /// </summary>
    /// <param name="scenario">A scenario without problems.</param>
    /// <param name="nodeClass">The class, by index.</param>
    /// <param name="due">The instant, microseconds.</param>
    public static double NodesByDivision(FarmScenario scenario, int nodeClass, long due)
    {
        FarmScenario one = scenario with { Nodes = [.. scenario.Nodes.Select((n, c) => c == nodeClass ? n with { Count = 1 } : n)], Maintenance = [] };
        FarmPlan plan = new(one);
        double[] best = [.. Enumerable.Range(0, plan.Classes.Length).Select(k => plan.TimeFactors.Where(f => f[k] > 0).Select(f => f[k]).DefaultIfEmpty(0).Min())];
        double work = plan.Jobs.Sum(j => WorkOf(j, best[j.Class]));
        HashSet<int> used = [.. plan.Jobs.Where(j => j.Segments > 0).Select(j => j.Class)];
        double others = 0;
        double mine = 0;
        for (int n = 0; n < plan.NodeClasses.Length; n++)
        {
            int c = plan.NodeClasses[n];
            double rate = used.Where(k => plan.TimeFactors[c][k] > 0).Select(k => best[k] / plan.TimeFactors[c][k]).DefaultIfEmpty(0).Max();
            double done = rate * plan.Calendars[plan.NodeCalendars[n]].OpenBetween(0, Math.Max(0, due));
            (others, mine) = c == nodeClass ? (others, done) : (others + done, mine);
        }

        return work <= others ? 0 : mine > 0 ? (work - others) / mine : double.PositiveInfinity;
    }

    /// <summary>
    /// Nodes that licences and storage can keep busy with the scenario's mix of work, unrounded, and which of them says so.
    /// The node after the last whole one adds only the fraction.
    /// </summary>
    /// <param name="scenario">A scenario without problems.</param>
    public static (double Nodes, FluidLimit Limit) UsefulNodes(FarmScenario scenario)
    {
        FarmPlan plan = new(scenario);
        double all = plan.Jobs.Sum(j => WorkOf(j, 1));
        (double Nodes, FluidLimit Limit) useful = (double.PositiveInfinity, FluidLimit.Nodes);
        for (int l = 0; l < plan.Scenario.Licences.Count; l++)
        {
            double work = plan.Jobs.Where(j => plan.Classes[j.Class].Licence == l).Sum(j => WorkOf(j, 1));
            double nodes = work > 0 ? scenario.Licences[l].Count * all / work : double.PositiveInfinity;
            useful = nodes < useful.Nodes ? (nodes, FluidLimit.Licences) : useful;
        }

        for (int p = 0; p < plan.Scenario.Storage.Count; p++)
        {
            double bytes = plan.Jobs.Where(j => plan.Classes[j.Class].Storage == p).Sum(j => BytesOf(j));
            double nodes = bytes > 0 ? scenario.Storage[p].BytesPerSecond * FarmClock.ToSeconds(1) * all / bytes : double.PositiveInfinity;
            useful = nodes < useful.Nodes ? (nodes, FluidLimit.Storage) : useful;
        }

        return useful;
    }

    private static double WorkOf(in PlannedJob job, double factor)
    {
        double rendered = job.Frames;
        for (long s = 1; s < job.Segments - job.Running && job.PreRoll > 0; s++)
        {
            rendered += Math.Min(job.PreRoll, s * job.SegmentFrames);
        }

        double frames = (rendered * job.MicrosecondsPerFrame) + (job.HasJoin ? job.Frames * job.JoinMicrosecondsPerFrame : 0);
        return (frames * factor) + ((double)job.Overhead * (job.Segments - job.Running + (job.HasJoin ? 1 : 0)));
    }

    private static double BytesOf(in PlannedJob job) =>
        (job.Frames * (job.ReadBytesPerFrame + job.WriteBytesPerFrame)) + (job.HasJoin ? 2 * job.Frames * job.WriteBytesPerFrame : 0);

    // A node of class c does work, measured in time on the best node for it, at most at max over k of best(k) ÷ factor(c, k).
    // Overhead is the same on every node, so a node that is at all slower than the best one still gets through it at rate 1.
    private static long? TotalWorkBound(FarmPlan plan, double[] best)
    {
        double[] rates = new double[plan.TimeFactors.Length];
        bool overheads = plan.Jobs.Any(j => j.Overhead > 0);
        HashSet<int> used = [.. plan.Jobs.Where(j => j.Segments > 0).Select(j => j.Class)];
        for (int c = 0; c < rates.Length; c++)
        {
            rates[c] = used.Where(k => plan.TimeFactors[c][k] > 0).Select(k => overheads ? 1 : best[k] / plan.TimeFactors[c][k]).DefaultIfEmpty(0).Max();
        }

        double[] nodesOfCalendar = new double[plan.Calendars.Length];
        for (int n = 0; n < plan.NodeClasses.Length; n++)
        {
            nodesOfCalendar[plan.NodeCalendars[n]] += rates[plan.NodeClasses[n]];
        }

        long latest = 0;
        long[] releases = [.. plan.Jobs.Where(j => j.Segments > 0).Select(j => j.Release).Distinct().Order()];
        int step = Math.Max(1, releases.Length / MostReleases);
        for (int i = 0; i < releases.Length; i += step)
        {
            long release = releases[i];
            double work = plan.Jobs.Where(j => j.Release >= release).Sum(j => WorkOf(j, best[j.Class]));
            if (EarliestWith(plan.Calendars, nodesOfCalendar, release, work) is not long end)
            {
                return null;
            }

            latest = Math.Max(latest, end);
        }

        return latest;
    }

    private static long? EarliestWith(Windows[] calendars, double[] rates, long from, double work)
    {
        double Done(long until) => Enumerable.Range(0, calendars.Length).Sum(c => rates[c] * calendars[c].OpenBetween(from, until));
        long low = from;
        long high = from + FarmClock.Longest;
        if (Done(high) < work)
        {
            return null;
        }

        while (low < high)
        {
            long middle = low + ((high - low) / 2);
            if (Done(middle) >= work - 0.5)
            {
                high = middle;
            }
            else
            {
                low = middle + 1;
            }
        }

        return low;
    }

    private static long LongestChain(FarmPlan plan, double[] best)
    {
        double[] start = [.. plan.Jobs.Select(j => (double)j.Release)];
        int[] open = [.. plan.Jobs.Select(j => j.Predecessors)];
        Queue<int> ready = new(Enumerable.Range(0, open.Length).Where(j => open[j] == 0));
        double latest = 0;
        while (ready.TryDequeue(out int j))
        {
            ref readonly PlannedJob job = ref plan.Jobs[j];
            double end = start[j] + Longest(job, best[job.Class]);
            latest = Math.Max(latest, end);
            for (int f = job.FollowersFrom; f < job.FollowersUntil; f++)
            {
                int next = plan.Followers[f];
                start[next] = Math.Max(start[next], end);
                if (--open[next] == 0)
                {
                    ready.Enqueue(next);
                }
            }
        }

        return (long)Math.Min(latest, FarmClock.Longest);
    }

    private static double Longest(in PlannedJob job, double factor)
    {
        int segments = job.Segments - job.Running;
        if (segments == 0)
        {
            return 0;
        }

        double segment = 0;
        for (long s = 0; s < Math.Min(segments, 2) || (s < segments && s * job.SegmentFrames < job.PreRoll); s++)
        {
            long before = s * job.SegmentFrames;
            segment = Math.Max(segment, Math.Min(job.SegmentFrames, job.Frames - before) + Math.Min(job.PreRoll, before));
        }

        double join = job.HasJoin ? (job.Frames * job.JoinMicrosecondsPerFrame * factor) + job.Overhead : 0;
        return (segment * job.MicrosecondsPerFrame * factor) + job.Overhead + join;
    }

    private static long LicenceBound(FarmPlan plan, double[] best)
    {
        double latest = 0;
        for (int l = 0; l < plan.Scenario.Licences.Count; l++)
        {
            int licence = l;
            var jobs = plan.Jobs.Where(j => j.Segments > 0 && plan.Classes[j.Class].Licence == licence).ToArray();
            if (jobs.Length > 0)
            {
                latest = Math.Max(latest, jobs.Min(j => j.Release) + (jobs.Sum(j => WorkOf(j, best[j.Class])) / plan.Scenario.Licences[l].Count));
            }
        }

        return (long)Math.Min(latest, FarmClock.Longest);
    }

    private static long StorageBound(FarmPlan plan)
    {
        double latest = 0;
        for (int p = 0; p < plan.Scenario.Storage.Count; p++)
        {
            int pool = p;
            var jobs = plan.Jobs.Where(j => j.Segments > 0 && plan.Classes[j.Class].Storage == pool).ToArray();
            if (jobs.Length > 0)
            {
                latest = Math.Max(latest, jobs.Min(j => j.Release) + (jobs.Sum(j => BytesOf(j)) * FarmClock.MicrosecondsPerSecond / plan.Scenario.Storage[p].BytesPerSecond));
            }
        }

        return (long)Math.Min(latest, FarmClock.Longest);
    }
}
