using PostPipeline.Quantities;

namespace PostPipeline.Farms;

/// <summary>
/// The farm's clock: whole microseconds from an instant that the caller chooses. Whole numbers make ties real ties
/// and sums exact, which the order of simultaneous events rests on.
/// </summary>
public static class FarmClock
{
    /// <summary>Microseconds in a second.</summary>
    public const long MicrosecondsPerSecond = 1_000_000;

    /// <summary>The longest time the clock is asked to hold: 40 years of 366 days, in microseconds.</summary>
    public const long Longest = 40L * 366 * 86_400 * MicrosecondsPerSecond;

    /// <summary>Seconds to microseconds, rounded to the nearest, halves up.</summary>
    /// <param name="seconds">0 up to 40 years.</param>
    /// <exception cref="ArgumentOutOfRangeException">Negative, not finite, or beyond 40 years.</exception>
    public static long FromSeconds(double seconds) =>
        (long)Math.Floor((Guard.Finite(seconds, 0, Longest / (double)MicrosecondsPerSecond) * MicrosecondsPerSecond) + 0.5);

    /// <summary>Hours to microseconds, rounded to the nearest, halves up.</summary>
    /// <param name="hours">0 up to 40 years.</param>
    public static long FromHours(double hours) => FromSeconds(hours * 3600);

    /// <summary>Microseconds to seconds.</summary>
    /// <param name="microseconds">Any span.</param>
    public static double ToSeconds(long microseconds) => microseconds / (double)MicrosecondsPerSecond;

    /// <summary>Microseconds to hours.</summary>
    /// <param name="microseconds">Any span.</param>
    public static double ToHours(long microseconds) => microseconds / (3600.0 * MicrosecondsPerSecond);
}
