using PostPipeline.Quantities;

namespace PostPipeline.Footage.Links;

/// <summary>
/// Streams that a link or array carries: plannable (line × 0.9 for the sharing protocol × 0.7 of headroom, common
/// practice) and physical (framing alone). Streams round down. 0 plannable and 1 physical is not "none" but "tight".
/// </summary>
public readonly record struct StreamCount
{
    /// <summary>Common practice: what a sharing protocol leaves of a line.</summary>
    public static readonly Rational DefaultProtocolShare = new(9, 10);

    /// <summary>Common practice: what a plan fills of that. It goes on once, on demand or on supply.</summary>
    public static readonly Rational DefaultHeadroom = new(7, 10);

    private StreamCount(Rational plannable, Rational physical) => (PlannableExact, PhysicalExact) = (plannable, physical);

    /// <summary>Plannable streams before rounding.</summary>
    public Rational PlannableExact { get; }

    /// <summary>Physical streams before rounding.</summary>
    public Rational PhysicalExact { get; }

    /// <summary>Streams that a plan may count on.</summary>
    public long Plannable => PlannableExact.Floor();

    /// <summary>Streams that pass at all, with nothing else on the link.</summary>
    public long Physical => PhysicalExact.Floor();

    /// <summary>Whether more pass than a plan may count on.</summary>
    public bool Tight => Physical > Plannable;

    /// <summary>Counts streams on an Ethernet link.</summary>
    /// <param name="line">The line rate.</param>
    /// <param name="stream">One stream, above zero.</param>
    /// <param name="framing">The framing, for the physical count.</param>
    /// <param name="protocolShare">Above 0 to 1; null for 9/10.</param>
    /// <param name="headroom">Above 0 to 1; null for 7/10, 1 where headroom is put on the demand.</param>
    public static StreamCount OnLink(DataRate line, DataRate stream, EthernetFraming framing, Rational? protocolShare = null, Rational? headroom = null)
    {
        Rational share = Part(protocolShare ?? DefaultProtocolShare, nameof(protocolShare)) * Part(headroom ?? DefaultHeadroom, nameof(headroom));
        return new(line.BitsPerSecond * share / Above(stream), framing.Goodput(line).BitsPerSecond / Above(stream));
    }

    /// <summary>Counts streams on an array.</summary>
    /// <param name="measured">What the array was measured to give to that many concurrent readers, not its sequential rating.</param>
    /// <param name="stream">One stream, above zero.</param>
    /// <param name="headroom">Above 0 to 1; null for 7/10.</param>
    public static StreamCount OnArray(DataRate measured, DataRate stream, Rational? headroom = null) =>
        new(measured.BitsPerSecond * Part(headroom ?? DefaultHeadroom, nameof(headroom)) / Above(stream), measured.BitsPerSecond / Above(stream));

    private static Rational Above(DataRate stream) =>
        stream.BitsPerSecond.Sign > 0 ? stream.BitsPerSecond : throw new ArgumentOutOfRangeException(nameof(stream), stream, "The stream's rate is 0; allowed is above 0.");

    private static Rational Part(Rational part, string name) =>
        part.Sign > 0 && part <= 1 ? part : throw new ArgumentOutOfRangeException(name, part, $"{name} is {part}; allowed is above 0 to 1.");
}
