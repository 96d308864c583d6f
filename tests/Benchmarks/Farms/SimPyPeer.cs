using System.Diagnostics;
using System.Globalization;
using System.Runtime.CompilerServices;

namespace PostPipeline.Benchmarks.Farms;

/// <summary>The same farms in SimPy 3 (Debian: python3-simpy3), a general-purpose simulation library, where it is installed.</summary>
internal static class SimPyPeer
{
    private const string Python = "/usr/bin/python3";

    /// <summary>Seconds a task, the fastest of the runs that fit the time, and the finish; or why not.</summary>
    public static bool TryMeasure(string farm, int nodes, int tasks, out double secondsPerTask, out double finish, out string reason)
    {
        (secondsPerTask, finish, reason) = (0, 0, string.Empty);
        if (!File.Exists(Python))
        {
            reason = $"{Python} is not there";
            return false;
        }

        ProcessStartInfo start = new(Python, [Path.Combine(Path.GetDirectoryName(Here())!, "peers", "simpy_farm.py"), farm, $"{nodes}", $"{tasks}", "5"])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        using Process process = Process.Start(start)!;
        Task<string> errors = process.StandardError.ReadToEndAsync();
        string[] numbers = process.StandardOutput.ReadToEnd().Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries);
        process.WaitForExit();
        if (process.ExitCode != 0 || numbers.Length != 2)
        {
            reason = "SimPy did not run (Debian: python3-simpy3): " + errors.Result.Trim().Split('\n')[^1];
            return false;
        }

        secondsPerTask = double.Parse(numbers[0], CultureInfo.InvariantCulture);
        finish = double.Parse(numbers[1], CultureInfo.InvariantCulture);
        return true;
    }

    private static string Here([CallerFilePath] string path = "") => path;
}
