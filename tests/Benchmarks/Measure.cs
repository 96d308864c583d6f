using System.Diagnostics;
using System.Runtime.InteropServices;

namespace PostPipeline.Benchmarks;

/// <summary>
/// A small harness for ratios in one run: warm up, then several timed runs, of which the median counts; bytes
/// allocated on the calling thread beside it. A run is long enough (tens of milliseconds) for the clock.
/// </summary>
internal static class Measure
{
    /// <summary>What one operation costs.</summary>
    /// <param name="Nanoseconds">Median over the runs, per operation.</param>
    /// <param name="Lowest">The fastest run, per operation.</param>
    /// <param name="Highest">The slowest run, per operation.</param>
    /// <param name="AllocatedBytes">Bytes allocated per operation, in the last run.</param>
    public readonly record struct Cost(double Nanoseconds, double Lowest, double Highest, double AllocatedBytes);

    /// <summary>Times an action that does many operations at once.</summary>
    /// <param name="operations">Operations in one call.</param>
    /// <param name="action">The work.</param>
    /// <param name="runs">Timed calls, after two to warm up.</param>
    public static Cost Median(int operations, Action action, int runs = 9)
    {
        action();
        action();
        double[] times = new double[runs];
        long allocated = 0;
        for (int i = 0; i < runs; i++)
        {
            long before = GC.GetAllocatedBytesForCurrentThread();
            long start = Stopwatch.GetTimestamp();
            action();
            times[i] = Stopwatch.GetElapsedTime(start).TotalNanoseconds / operations;
            allocated = GC.GetAllocatedBytesForCurrentThread() - before;
        }

        Array.Sort(times);
        return new(times[runs / 2], times[0], times[^1], (double)allocated / operations);
    }

    /// <summary>Says what it was measured on.</summary>
    public static void PrintMachine() =>
        Console.WriteLine($"machine: {Environment.ProcessorCount} logical cores, {RuntimeInformation.OSDescription}, {RuntimeInformation.FrameworkDescription}");

    /// <summary>Prints one line.</summary>
    /// <param name="what">What was measured.</param>
    /// <param name="cost">Its cost.</param>
    public static void Print(string what, Cost cost) =>
        Console.WriteLine($"{what,-58} {cost.Nanoseconds,10:F1} ns ({cost.Lowest:F1} to {cost.Highest:F1}), {cost.AllocatedBytes:F2} B allocated");
}
