using Google.Protobuf.Collections;
using PostPipeline.Farms;
using PostPipeline.Hosting.Validation;
using OpenTimes = PostPipeline.Flows.Windows;
using Window = PostPipeline.Contracts.Types.V1.Window;

namespace PostPipeline.Rendering.Service.Farms;

/// <summary>Reads seconds and windows of a request as times of the farm's clock.</summary>
internal sealed class ClockReader(Violations violations)
{
    private static readonly double LongestSeconds = FarmClock.ToSeconds(FarmClock.Longest);

    /// <summary>Seconds to the farm's clock; 0, with a violation, where they do not fit it.</summary>
    public long Microseconds(FieldPath path, double seconds) =>
        violations.InRange(path, seconds, 0, LongestSeconds) ? FarmClock.FromSeconds(seconds) : 0;

    /// <summary>Windows in which something is open; null, with a violation where there are too many, for always.</summary>
    public OpenTimes? Windows(RepeatedField<Window> windows, FieldPath path)
    {
        if (windows.Count == 0 || !violations.Count(path, windows.Count, 0, FarmScenarioLimits.MostWindows))
        {
            return null;
        }

        return OpenTimes.From(windows.Select((w, i) => Window(w, path[i])).OfType<(long, long)>());
    }

    /// <summary>One window, before the clock's start or after; null, with a violation, where it does not fit the clock.</summary>
    public (long From, long Until)? Window(Window window, FieldPath path)
    {
        if (violations.InRange(path["from_seconds"], window.FromSeconds, -LongestSeconds, LongestSeconds)
            && violations.InRange(path["until_seconds"], window.UntilSeconds, window.FromSeconds, LongestSeconds))
        {
            return (Signed(window.FromSeconds), Signed(window.UntilSeconds));
        }

        return null;
    }

    private static long Signed(double seconds) => Math.Sign(seconds) * FarmClock.FromSeconds(Math.Abs(seconds));
}
