using PostPipeline.Quantities;

namespace PostPipeline.Timecodes.Synchronization;

/// <summary>
/// Two clocks set to each other once (jam-synced) and then left alone. In the worst case one runs fast and the other
/// slow, so their tolerances add: drift = (ppm₁ + ppm₂) · time. Common practice, no source.
/// </summary>
public readonly record struct JamSyncPair
{
    private const long Million = 1_000_000;

    private JamSyncPair(Rational first, Rational second)
    {
        FirstPartsPerMillion = first;
        SecondPartsPerMillion = second;
    }

    /// <summary>Tolerance of one clock, in parts per million.</summary>
    public Rational FirstPartsPerMillion { get; }

    /// <summary>Tolerance of the other clock, in parts per million.</summary>
    public Rational SecondPartsPerMillion { get; }

    /// <summary>Seconds of drift in a second, at worst.</summary>
    public Rational WorstRate => (FirstPartsPerMillion + SecondPartsPerMillion) / Million;

    /// <summary>A pair of clocks.</summary>
    /// <param name="firstPartsPerMillion">0 to 1,000,000.</param>
    /// <param name="secondPartsPerMillion">0 to 1,000,000.</param>
    /// <exception cref="ArgumentOutOfRangeException">A tolerance lies outside.</exception>
    public static JamSyncPair From(Rational firstPartsPerMillion, Rational secondPartsPerMillion) =>
        new(InRange(firstPartsPerMillion, nameof(firstPartsPerMillion)), InRange(secondPartsPerMillion, nameof(secondPartsPerMillion)));

    /// <summary>Worst drift after a time, in seconds.</summary>
    /// <param name="seconds">Time since the clocks were set to each other, 0 or more.</param>
    public Rational DriftSecondsAfter(Rational seconds) =>
        seconds.Sign >= 0
            ? seconds * WorstRate
            : throw new ArgumentOutOfRangeException(nameof(seconds), seconds, $"The time since the last sync is {seconds} s; allowed is 0 or more.");

    /// <summary>Worst drift after a time, in frames, exact.</summary>
    /// <param name="seconds">Time since the clocks were set to each other, 0 or more.</param>
    /// <param name="rate">The rate whose frames count.</param>
    public Rational DriftFramesAfter(Rational seconds, FrameRate rate) => DriftSecondsAfter(seconds) * rate.FramesPerSecond;

    /// <summary>The longest time between two syncs that keeps the drift inside a budget; null where the clocks never drift.</summary>
    /// <param name="budgetFrames">Allowed drift in frames, above 0; half a frame is usual.</param>
    /// <param name="rate">The rate whose frames count.</param>
    /// <returns>Seconds, exact. To print a promise, round down.</returns>
    public Rational? LongestIntervalSeconds(Rational budgetFrames, FrameRate rate)
    {
        if (budgetFrames.Sign <= 0)
        {
            throw new ArgumentOutOfRangeException(nameof(budgetFrames), budgetFrames, $"The budget is {budgetFrames} frames; allowed is above 0.");
        }

        return WorstRate.Sign == 0 ? null : budgetFrames * rate.SecondsPerFrame / WorstRate;
    }

    /// <summary>How often the clocks must be set to each other in a stretch of time so that the budget holds, the first time included.</summary>
    /// <param name="seconds">The stretch, above 0.</param>
    /// <param name="budgetFrames">Allowed drift in frames, above 0.</param>
    /// <param name="rate">The rate whose frames count.</param>
    public long SyncsNeeded(Rational seconds, Rational budgetFrames, FrameRate rate)
    {
        Rational drift = DriftFramesAfter(seconds, rate);
        return Math.Max(1, (drift / budgetFrames).Ceiling());
    }

    private static Rational InRange(Rational value, string name) =>
        value.Sign >= 0 && value <= Million
            ? value
            : throw new ArgumentOutOfRangeException(name, value, $"A clock's tolerance is {value} ppm; allowed is 0 to {Million} ppm.");
}
