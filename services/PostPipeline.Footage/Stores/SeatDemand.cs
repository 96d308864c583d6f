using PostPipeline.Quantities;

namespace PostPipeline.Footage.Stores;

/// <summary>Seats that read alike: count × streams × rate × the part that plays at once (0.5 to 0.8; all angles of a multicam cut play at once).</summary>
public readonly record struct SeatDemand
{
    private SeatDemand(int count, int streams, DataRate stream, Rational simultaneity) =>
        (Count, Streams, Stream, Simultaneity) = (count, streams, stream, simultaneity);

    /// <summary>Seats.</summary>
    public int Count { get; }

    /// <summary>Streams of a seat.</summary>
    public int Streams { get; }

    /// <summary>One stream.</summary>
    public DataRate Stream { get; }

    /// <summary>The part that plays at once.</summary>
    public Rational Simultaneity { get; }

    /// <summary>What they read together.</summary>
    public DataRate Rate => DataRate.FromBytesPerSecond(Stream.BytesPerSecond * ((long)Count * Streams) * Simultaneity);

    /// <summary>Creates a demand.</summary>
    /// <param name="count">0 to 10,000 seats.</param>
    /// <param name="streams">1 to 64 streams of a seat.</param>
    /// <param name="stream">One stream.</param>
    /// <param name="simultaneity">Above 0 to 1.</param>
    public static SeatDemand From(int count, int streams, DataRate stream, Rational simultaneity) =>
        simultaneity.Sign > 0 && simultaneity <= 1
            ? new(Guard.InRange(count, 0, 10_000), Guard.InRange(streams, 1, 64), stream, simultaneity)
            : throw new ArgumentOutOfRangeException(nameof(simultaneity), simultaneity, $"The simultaneity is {simultaneity}; allowed is above 0 to 1.");
}
