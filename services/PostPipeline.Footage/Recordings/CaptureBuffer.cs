using PostPipeline.Quantities;

namespace PostPipeline.Footage.Recordings;

/// <summary>
/// Memory that holds frames which the medium cannot take in time. Manuals state burst seconds and ready-again
/// seconds, seldom bytes, so bytes can be derived from the seconds.
/// </summary>
public sealed record CaptureBuffer
{
    private CaptureBuffer(DataSize capacity) => Capacity = capacity;

    /// <summary>Bytes of all parts together.</summary>
    public DataSize Capacity { get; }

    /// <summary>How the size is known, for derivations.</summary>
    public string Basis { get; private init; } = "as stated";

    /// <summary>Equal parts that the memory is divided into; each holds a window of its own. 1 or more.</summary>
    public int Partitions { get; init; } = 1;

    /// <summary>When it drains.</summary>
    public DrainBehaviour Drain { get; init; }

    /// <summary>Place of the trigger in the window: 0 the window starts at the press, 1 it ends there.</summary>
    public Rational TriggerPosition { get; init; }

    /// <summary>Seconds between an empty buffer and ready.</summary>
    public Rational ResetSeconds { get; init; }

    /// <summary>A buffer of known size.</summary>
    /// <param name="capacity">Above zero.</param>
    public static CaptureBuffer FromSize(DataSize capacity) => new(DataSize.FromBytes(Guard.InRange(capacity.Bytes, 1, long.MaxValue)));

    /// <summary>A buffer known by the seconds it is stated to hold when nothing drains: seconds × rate, rounded down.</summary>
    /// <param name="seconds">Above zero.</param>
    /// <param name="incoming">The rate of the mode for which they are stated.</param>
    public static CaptureBuffer FromStatedSeconds(Rational seconds, DataRate incoming) => FromSize(DataSize.FromBytes((incoming.BytesPerSecond * seconds).Floor())) with { Basis = $"{seconds.ToDouble():0.###} s stated × needed" };

    /// <summary>A buffer known by the time it takes to be ready again: (ready again − reset) × what the medium takes, rounded down.</summary>
    /// <param name="readyAgainSeconds">More than <paramref name="resetSeconds"/>.</param>
    /// <param name="resetSeconds">Seconds between empty and ready.</param>
    /// <param name="ceiling">What the medium takes.</param>
    public static CaptureBuffer FromReadyAgain(Rational readyAgainSeconds, Rational resetSeconds, WriteCeiling ceiling) =>
        FromSize(DataSize.FromBytes((ceiling.Rate.BytesPerSecond * (readyAgainSeconds - resetSeconds)).Floor())) with { ResetSeconds = resetSeconds, Basis = $"({readyAgainSeconds.ToDouble():0.###} s until ready again − {resetSeconds.ToDouble():0.###} s reset) × write ceiling" };
}
