using PostPipeline.Quantities;

namespace PostPipeline.Footage.Links;

/// <summary>
/// A long way over a shared line: framing, the part of the line that is ours, and what loss and distance leave to one
/// TCP flow. A flow never passes window ÷ round trip, and with loss p about MSS ÷ round trip × 1.22 ÷ √p (Mathis,
/// Semke, Mahdavi, Ott 1997, "The macroscopic behavior of the TCP congestion avoidance algorithm"); modern congestion
/// control does better, so the second is a caution, not a promise.
/// </summary>
public sealed record WideAreaLink
{
    private const double MathisConstant = 1.2247448713915890; // √(3/2)

    /// <summary>Creates a link.</summary>
    /// <param name="line">The line rate.</param>
    public WideAreaLink(DataRate line) => Line = line;

    /// <summary>The line rate.</summary>
    public DataRate Line { get; }

    /// <summary>The framing.</summary>
    public EthernetFraming Framing { get; init; } = EthernetFraming.Standard;

    /// <summary>The part of the line that is ours, above 0 to 1.</summary>
    public Rational OurShare { get; init; } = 1;

    /// <summary>Round trip in milliseconds; 0 where it is not known and not counted.</summary>
    public double RoundTripMilliseconds { get; init; }

    /// <summary>Part of packets lost, 0 to 1.</summary>
    public double Loss { get; init; }

    /// <summary>Bytes of a flow's window; 0 where it does not limit.</summary>
    public long WindowBytes { get; init; }

    /// <summary>Flows side by side, 1 or more.</summary>
    public int Flows { get; init; } = 1;

    /// <summary>What limits, slowest first, in bytes a second for all flows together.</summary>
    public IReadOnlyList<(string Name, double BytesPerSecond)> Limits
    {
        get
        {
            Guard.InRange(Flows, 1, 10_000);
            Guard.Finite(RoundTripMilliseconds, 0, 100_000);
            Guard.Finite(Loss, 0, 1);
            List<(string Name, double BytesPerSecond)> limits = [("line", Framing.Goodput(Line).BytesPerSecond.ToDouble() * OurShare.ToDouble())];
            double seconds = RoundTripMilliseconds / 1000;
            if (seconds > 0 && WindowBytes > 0)
            {
                limits.Add(("window and round trip", Flows * WindowBytes / seconds));
            }

            if (seconds > 0 && Loss > 0)
            {
                limits.Add(("loss and round trip", Flows * Framing.PayloadBytes / seconds * MathisConstant / Math.Sqrt(Loss)));
            }

            return [.. limits.OrderBy(l => l.BytesPerSecond)];
        }
    }

    /// <summary>Bytes a second that a plan may count on.</summary>
    public double BytesPerSecond => Limits[0].BytesPerSecond;

    /// <summary>Hours to send so many bytes.</summary>
    /// <param name="size">What is sent.</param>
    public double Hours(DataSize size) => size.Bytes / BytesPerSecond / 3600;
}
