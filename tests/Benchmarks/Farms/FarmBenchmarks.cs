using System.Diagnostics;
using System.Globalization;
using PostPipeline.Farms;
using PostPipeline.Farms.Simulations;
using PostPipeline.Flows;
using OpenTimes = PostPipeline.Flows.Windows;

namespace PostPipeline.Benchmarks.Farms;

/// <summary>
/// Tasks simulated per second on one core: bare, against a bare loop over .NET's PriorityQueue and SimPy 3; with failures,
/// windows and overheads; with shared storage; growth from 10³ to 10⁷ tasks; 10,000 replications; the fluid model in draws.
/// All in one run, so that ratios are of the same minutes; in processor time.
/// </summary>
internal static class FarmBenchmarks
{
    private const int Nodes = 12;
    private const int Tasks = 1_296;
    private const int Jobs = 36;
    private const int Repeats = 100;
    private static readonly TimeSpan WarmUp = TimeSpan.FromSeconds(1);
    private const double LoadedRatio = 10;
    private const double StorageRatio = 4;

    /// <summary>Runs the area.</summary>
    /// <param name="args">None.</param>
    /// <returns>0, or 1 where a promised ratio is not met.</returns>
    public static int Run(string[] args)
    {
        bool met = Bare();
        met &= Against("loaded", "with failures, windows and overheads", Loaded(), LoadedRatio);
        met &= Against("storage", "with failures, overheads and shared storage", Storage(), StorageRatio);
        Growth();
        Replications();
        met &= Fluid();
        return met ? 0 : 1;
    }

    private static bool Bare()
    {
        FarmPlans plans = new(Of(new JobClass { Name = "render" }, 0), 1);
        RunArrays arrays = new();
        TaskRecordList list = new(2 * Tasks);
        double[] lengths = [.. Enumerable.Range(0, Tasks).Select(i => SecondsOf(i / (Tasks / Jobs)))];
        long finish = 0;
        void Farm(TaskRecordList? rows)
        {
            for (int r = 0; r < Repeats; r++)
            {
                rows?.Clear();
                finish = plans.Run(arrays, r, rows, default).Finish ?? 0;
            }
        }

        long loopFinish = 0;
        double[] costs = Alternating(
            Tasks * Repeats, () => Farm(list), () => loopFinish = PriorityQueueLoop(lengths, true), () => Farm(null), () => loopFinish = PriorityQueueLoop(lengths, false));
        double ours = costs[0];
        Console.WriteLine(Line($"bare farm, rows kept {costs[0]:F1} ns a task, bare loop over .NET PriorityQueue {costs[1]:F1}: {costs[1] / costs[0]:F2} times as fast ({1e3 / costs[0]:F1} M tasks/s)"));
        Console.WriteLine(Line($"bare farm, no rows   {costs[2]:F1} ns a task, bare loop over .NET PriorityQueue {costs[3]:F1}: {costs[3] / costs[2]:F2} times as fast ({1e3 / costs[2]:F1} M tasks/s); at least 1 is promised; finishes {(finish == loopFinish ? "agree" : "DIFFER")}"));
        Peer("bare", ours, 1);
        return costs[2] <= costs[3] && finish == loopFinish;
    }

    // What a programmer would write first: nodes by the time at which they are free, the tasks in a list, the rows kept.
    private static long PriorityQueueLoop(double[] lengths, bool keep)
    {
        long finish = 0;
        PriorityQueue<int, long> free = new(Nodes);
        List<TaskRecord> rows = new(2 * Tasks);
        for (int run = 0; run < Repeats; run++)
        {
            free.Clear();
            rows.Clear();
            for (int n = 0; n < Nodes; n++)
            {
                free.Enqueue(n, 0);
            }

            for (int task = 0; task < lengths.Length; task++)
            {
                free.TryDequeue(out int node, out long start);
                long end = start + (long)((lengths[task] * 1e6) + 0.5);
                if (keep)
                {
                    rows.Add(new(0, task, 0, node, 0, start, end, TaskOutcome.Done));
                }

                free.Enqueue(node, end);
                finish = Math.Max(finish, end);
            }
        }

        return finish;
    }

    private static bool Against(string peer, string what, FarmScenario scenario, double promised)
    {
        double ours = Simulate($"farm {what}", scenario, true);
        return Peer(peer, ours, promised);
    }

    private static bool Peer(string farm, double ours, double promised)
    {
        if (!SimPyPeer.TryMeasure(farm, Nodes, Tasks, out double seconds, out double finish, out string reason))
        {
            Console.WriteLine($"  against SimPy 3: not measured, {reason}");
            return true;
        }

        double ratio = seconds * 1e9 / ours;
        Console.WriteLine(Line($"  against SimPy 3, fastest run of each ({seconds * 1e9:F0} ns a task, finish {finish:F0} s): {ratio:F1} times as fast; at least {promised:F0} is promised"));
        return ratio >= promised;
    }

    private static double Simulate(string what, FarmScenario scenario, bool rows)
    {
        const int Runs = 100;
        FarmPlans plans = new(scenario, 1);
        RunArrays arrays = new();
        TaskRecordList? list = rows ? new(2 * Tasks) : null;
        long finish = 0;
        Measure.Cost cost = Settled(Tasks * Runs, () =>
        {
            for (int r = 0; r < Runs; r++)
            {
                list?.Clear();
                finish = plans.Run(arrays, r, list, default).Finish ?? 0;
            }
        });
        Measure.Print($"{what} ({FarmClock.ToSeconds(finish):F0} s)", cost);
        return cost.Lowest;
    }

    // 36 jobs of 36 tasks; tasks of a job take equally long.
    private static double SecondsOf(int job) => 60 + (job * 37 % 61) + (job / 100.0);

    // Turn by turn, the fastest of each: what slows one of them for a while slows the others too.
    private static double[] Alternating(int operations, params Action[] actions)
    {
        double[] fastest = new double[actions.Length];
        Array.Fill(fastest, double.PositiveInfinity);
        long start = Stopwatch.GetTimestamp();
        while (Stopwatch.GetElapsedTime(start) < 4 * WarmUp)
        {
            for (int a = 0; a < actions.Length; a++)
            {
                TimeSpan used = Environment.CpuUsage.TotalTime;
                actions[a]();
                fastest[a] = Math.Min(fastest[a], (Environment.CpuUsage.TotalTime - used).TotalNanoseconds / operations);
            }
        }

        return fastest;
    }

    // Until the just-in-time compiler has settled, which takes longer than two calls on a busy machine.
    private static Measure.Cost Settled(int operations, Action action)
    {
        long start = Stopwatch.GetTimestamp();
        while (Stopwatch.GetElapsedTime(start) < WarmUp)
        {
            action();
        }

        // Processor time of this process, which does nothing else meanwhile: what other processes do to the clock stays out.
        double[] times = new double[15];
        long allocated = 0;
        for (int i = 0; i < times.Length; i++)
        {
            long before = GC.GetAllocatedBytesForCurrentThread();
            TimeSpan used = Environment.CpuUsage.TotalTime;
            action();
            times[i] = (Environment.CpuUsage.TotalTime - used).TotalNanoseconds / operations;
            allocated = GC.GetAllocatedBytesForCurrentThread() - before;
        }

        Array.Sort(times);
        return new(times[times.Length / 2], times[0], times[^1], (double)allocated / operations);
    }

    private static FarmScenario Of(JobClass kind, double overhead) => new()
    {
        Nodes = [new NodeClass { Name = "node", Count = Nodes }],
        Classes = [kind],
        Jobs = [.. Enumerable.Range(0, Jobs).Select(j => new FarmJob { Frames = Tasks / Jobs, SegmentFrames = 1, SecondsPerFrame = SecondsOf(j), OverheadSeconds = overhead })],
    };

    private static FarmScenario Loaded()
    {
        FarmScenario farm = Of(new JobClass { Name = "render", FailureProbability = 0.02 }, 45);
        OpenTimes nights = OpenTimes.From(Enumerable.Range(0, 366).Select(d => (FarmClock.FromHours(d * 24), FarmClock.FromHours((d * 24) + 10))));
        return farm with { Nodes = [farm.Nodes[0] with { Open = nights }] };
    }

    private static FarmScenario Storage()
    {
        FarmScenario farm = Of(new JobClass { Name = "render", FailureProbability = 0.02, Storage = 0 }, 45);
        return farm with
        {
            Storage = [new StoragePool("array", 1200e6)],
            Jobs = [.. farm.Jobs.Select(j => j with { WriteBytesPerFrame = (long)(j.SecondsPerFrame * 115e6) })],
        };
    }

    private static void Growth()
    {
        foreach (int tasks in new[] { 1_000, 10_000, 100_000, 1_000_000, 10_000_000 })
        {
            FarmScenario scenario = new()
            {
                Nodes = [new NodeClass { Name = "node", Count = 200 }],
                Classes = [new JobClass { Name = "render", FailureProbability = 0.02, TaskLogSd = 0.2 }],
                Jobs = [new FarmJob { Frames = tasks, SegmentFrames = 1, SecondsPerFrame = 30, OverheadSeconds = 5 }],
            };
            FarmPlans plans = new(scenario, 1);
            RunArrays arrays = new();
            plans.Run(arrays, 0, null, default);
            int runs = Math.Max(1, 1_000_000 / tasks);
            TimeSpan start = Environment.CpuUsage.TotalTime;
            for (int r = 0; r < runs; r++)
            {
                plans.Run(arrays, r, null, default);
            }

            double nanoseconds = (Environment.CpuUsage.TotalTime - start).TotalNanoseconds / tasks / runs;
            Console.WriteLine(Line($"{tasks,10} tasks on 200 nodes, failures and a spread: {nanoseconds:F0} ns of processor time a task ({1e3 / nanoseconds:F1} M tasks/s)"));
        }
    }

    // The size of the farm in the invented scenario: 12 nodes, a day of 648,000 frames in three jobs, nights of ten hours.
    private static void Replications()
    {
        FarmScenario scenario = new()
        {
            Nodes = [new NodeClass { Name = "node", Count = 12, SlowProbability = 0.1, Open = OpenTimes.From(Enumerable.Range(0, 60).Select(d => (FarmClock.FromHours(d * 24), FarmClock.FromHours((d * 24) + 10)))) }],
            Classes = [new JobClass { Name = "transcode", FailureProbability = 0.02, TaskLogSd = 0.15, SharedLogSd = 0.1, Storage = 0 }],
            Storage = [new StoragePool("array", 1200e6, 400e6)],
            Jobs = [.. Enumerable.Range(0, 3).Select(j => new FarmJob { Frames = 216_000, SegmentFrames = 500, SecondsPerFrame = 0.35, OverheadSeconds = 20, ReadBytesPerFrame = 4_423_680, WriteBytesPerFrame = 3_641_000 })],
        };
        int reports = 0;
        long start = Stopwatch.GetTimestamp();
        FarmForecast forecast = FarmReplications.Run(scenario, 1, 10_000, _ => Interlocked.Increment(ref reports));
        TimeSpan spent = Stopwatch.GetElapsedTime(start);
        Console.WriteLine(Line($"10,000 replications of 12 nodes and 1,296 tasks with storage: {spent.TotalSeconds:F1} s, {reports} progress reports, P50 {forecast.Finish(0.5) / 3.6e9:F2} h, P90 {forecast.Finish(0.9) / 3.6e9:F2} h"));
    }

    private static bool Fluid()
    {
        OpenTimes nights = OpenTimes.From(Enumerable.Range(0, 366).Select(d => (d * 86_400L, (d * 86_400L) + 36_000)));
        FluidService service = new(nights, [.. Enumerable.Range(0, 60).Select(d => (d * 86_400L) + 30_000)]);
        double[] work = [.. Enumerable.Range(0, 60).Select(d => 200_000.0 + (d * 1_000))];
        long last = 0;
        Measure.Cost cost = Settled(30_000, () =>
        {
            for (int draw = 0; draw < 30_000; draw++)
            {
                last = service.Finish(work, 8 + (draw % 7), 900, 1_800) ?? 0;
            }
        });
        Measure.Print("fluid farm of 60 days, one finish", cost);
        Console.WriteLine(Line($"10,000 draws of three pipelines: {cost.Nanoseconds * 30_000 / 1e6:F1} ms; at most 100 is promised (last {last})"));
        return cost.Nanoseconds * 30_000 <= 100e6;
    }

    private static string Line(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
