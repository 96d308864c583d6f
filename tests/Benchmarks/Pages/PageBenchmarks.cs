using System.Diagnostics;
using System.Globalization;

namespace PostPipeline.Benchmarks.Pages;

/// <summary>
/// What a reader of notebooks waits for: a report from a cold start, and on a live page the redrawn chart after a slider is let go.
/// Arguments choose parts: cold, moves, latency; without any all are measured. Needs the command beside its sources (build the solution first) and Chromium; what is missing is said and left out.
/// </summary>
internal static class PageBenchmarks
{
    private const int Moves = 60;
    private const int WarmUp = 40;

    public static int Run(string[] arguments)
    {
        string command = Path.GetFullPath(Path.Combine(AppContext.BaseDirectory, "../../../../../clients/PostPipeline.Cli/bin/Release/net10.0/postpipeline.dll"));
        if (!File.Exists(command))
        {
            Console.WriteLine($"left out: {command} is not built");
            return 1;
        }

        bool all = arguments.Length == 0;
        bool kept = true;
        if (all || arguments.Contains("cold"))
        {
            kept &= ColdRuns(command);
        }

        if (all || arguments.Contains("moves"))
        {
            kept &= ManyMoves.MeasureAsync().GetAwaiter().GetResult();
        }

        if (!all && !arguments.Contains("latency"))
        {
            return kept ? 0 : 1;
        }

        if (new[] { "/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome" }.FirstOrDefault(File.Exists) is not { } browser)
        {
            Console.WriteLine("latency of the live page left out: no Chromium is installed");
            return 1;
        }

        return MeasureAsync(command, browser).GetAwaiter().GetResult() && kept ? 0 : 1;
    }

    /// <summary>Starts the command.</summary>
    internal static Process Start(string command, params string[] arguments)
    {
        ProcessStartInfo start = new(Environment.GetEnvironmentVariable("DOTNET_HOST_PATH") ?? "dotnet") { RedirectStandardOutput = true, RedirectStandardError = true };
        foreach (string argument in arguments.Prepend(command).Prepend("exec"))
        {
            start.ArgumentList.Add(argument);
        }

        return Process.Start(start)!;
    }

    private static bool ColdRuns(string command)
    {
        List<double> seconds = [];
        long size = 0;
        for (int i = 0; i < 3; i++)
        {
            string folder = Directory.CreateTempSubdirectory("postpipeline-cold-").FullName;
            string report = Path.Combine(folder, "report.html");
            long began = Stopwatch.GetTimestamp();
            using (Process process = Start(command, "run", "compare", "--to", report, "--data", Path.Combine(folder, "data")))
            {
                Task<string> errors = process.StandardError.ReadToEndAsync();
                process.StandardOutput.ReadToEnd();
                process.WaitForExit();
                if (process.ExitCode != 0)
                {
                    throw new InvalidOperationException(errors.Result);
                }
            }

            seconds.Add(Stopwatch.GetElapsedTime(began).TotalSeconds);
            size = new FileInfo(report).Length;
            Directory.Delete(folder, recursive: true);
        }

        seconds.Sort();
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"run compare, new process and empty data folder: {seconds[1]:F2} s (median of 3; {seconds[0]:F2} to {seconds[2]:F2}); wanted: under 12 s"));
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"its report: {size / 1e6:F2} MB; wanted: under 6 MB"));
        return Kept(seconds[1] < 12, "cold run") & Kept(size < 6_000_000, "size of the report");
    }

    // What is not kept is said on a line of its own, and the benchmark ends with an error.
    private static bool Kept(bool kept, string what)
    {
        if (!kept)
        {
            Console.WriteLine($"NOT KEPT: {what}");
        }

        return kept;
    }

    private static async Task<bool> MeasureAsync(string command, string browser)
    {
        await using LiveLatency latency = await LiveLatency.OpenAsync(browser);
        IReadOnlyList<MoveTimes> compare = await latency.MeasureAsync(command, "compare", "material", 1, Moves, WarmUp);
        Print("compare", "median under 300 ms, 95th percentile under 800 ms", compare);
        IReadOnlyList<MoveTimes> recording = await latency.MeasureAsync(command, "recording-and-bursts", "rate", 0, Moves, WarmUp);
        Print("recording-and-bursts", "median under 100 ms", recording);
        return Kept(Level(compare, 0.5) < 300 && Level(compare, 0.95) < 800, "latency of the comparison") & Kept(Level(recording, 0.5) < 100, "latency of recording-and-bursts");
    }

    private static double Level(IReadOnlyList<MoveTimes> moves, double level) => moves.Select(m => m.FirstChart).Order().ElementAt((int)Math.Ceiling(level * moves.Count) - 1);

    private static void Print(string notebook, string wanted, IReadOnlyList<MoveTimes> moves)
    {
        Console.WriteLine($"live page {notebook}: {moves.Count} moves of a slider by keyboard; from its release; wanted: {wanted}");
        foreach ((string name, Func<MoveTimes, double> of) in new (string, Func<MoveTimes, double>)[]
        {
            ("the charts in view are redrawn", m => m.FirstChart),
            ("every chart of the page is redrawn, in view or not", m => m.LastChart),
            ("of that: cells, until everything has run", m => m.Cells),
            ("of that: until the page hears of the first new output", m => m.Heard),
            ("of that: from there to the charts in view", m => m.FirstChart - m.Heard),
        })
        {
            double[] sorted = [.. moves.Select(of).Order()];
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"  {name,-56} median {sorted[sorted.Length / 2],8:F1} ms, 95th percentile {sorted[(int)Math.Ceiling(0.95 * sorted.Length) - 1],8:F1} ms"));
        }
    }
}
