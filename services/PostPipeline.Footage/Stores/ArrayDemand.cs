using PostPipeline.Quantities;

namespace PostPipeline.Footage.Stores;

/// <summary>
/// What an array must give: Σ seats × streams × rate × simultaneity, and suites, farm, ingest, backup. The need to hold
/// against a measurement with that many concurrent readers is demand ÷ 0.7; headroom goes on once.
/// </summary>
public sealed record ArrayDemand
{
    /// <summary>Common practice: an array is loaded to 7/10.</summary>
    public static readonly Rational DefaultHeadroom = new(7, 10);

    /// <summary>Seats.</summary>
    public IReadOnlyList<SeatDemand> Seats { get; init; } = [];

    /// <summary>Everything else by name: suites, farm, ingest, backup.</summary>
    public IReadOnlyList<(string Name, DataRate Rate)> Others { get; init; } = [];

    /// <summary>Demand without headroom.</summary>
    public DataRate Demand
    {
        get
        {
            Rational total = 0;
            foreach (SeatDemand seat in Seats)
            {
                total += seat.Rate.BytesPerSecond;
            }

            foreach ((_, DataRate rate) in Others)
            {
                total += rate.BytesPerSecond;
            }

            return DataRate.FromBytesPerSecond(total);
        }
    }

    /// <summary>Readers at once.</summary>
    public long Readers => Seats.Sum(s => (long)s.Count * s.Streams) + Others.Count;

    /// <summary>What the array must have been measured to give, headroom put on.</summary>
    public DataRate Rated => DataRate.FromBytesPerSecond(Demand.BytesPerSecond / DefaultHeadroom);

    /// <summary>Nodes that storage can feed: what seats leave over ÷ what a node needs. Useful nodes round down.</summary>
    /// <param name="leftOver">What seats leave over.</param>
    /// <param name="bytesPerFrame">Bytes that a node reads and writes for a frame.</param>
    /// <param name="secondsPerFrame">Seconds it takes, above zero.</param>
    /// <returns>The exact count; its floor is useful, its fraction is what the next node adds.</returns>
    public static Rational NodesFed(DataRate leftOver, long bytesPerFrame, Rational secondsPerFrame)
    {
        Guard.InRange(bytesPerFrame, 1, 1L << 50);
        return secondsPerFrame.Sign > 0
            ? leftOver.BytesPerSecond / (bytesPerFrame / secondsPerFrame)
            : throw new ArgumentOutOfRangeException(nameof(secondsPerFrame), secondsPerFrame, $"Seconds a frame are {secondsPerFrame}; allowed is above 0.");
    }
}
