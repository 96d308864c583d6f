using System.Diagnostics;
using System.Runtime;

namespace PostPipeline.Notebooks.Runs;

/// <summary>Measures the parts of a run from the start of this process on.</summary>
internal sealed class RunClock
{
    private long since = Stopwatch.GetTimestamp();
    private TimeSpan compiled = TimeSpan.Zero;
    private TimeSpan before = Before();

    /// <summary>The time since the part before ended.</summary>
    /// <param name="part">The name of the part that ends now.</param>
    public PartTime Lap(string part)
    {
        TimeSpan compiledNow = JitInfo.GetCompilationTime();
        PartTime time = new(part, (before + Stopwatch.GetElapsedTime(since)).TotalSeconds, (compiledNow - compiled).TotalSeconds);
        (since, compiled, before) = (Stopwatch.GetTimestamp(), compiledNow, TimeSpan.Zero);
        return time;
    }

    private static TimeSpan Before()
    {
        using Process own = Process.GetCurrentProcess();
        TimeSpan ran = DateTime.Now - own.StartTime;
        return ran > TimeSpan.Zero ? ran : TimeSpan.Zero;
    }
}
