using PostPipeline.Quantities;

namespace PostPipeline.Footage.Links;

/// <summary>
/// The part of an Ethernet link that TCP over IPv4 can carry as payload: headers of 20 + 20 B inside the frame (and 12 B
/// where TCP timestamps are on, RFC 7323), 38 B around it (IEEE 802.3: preamble and delimiter 8, header 14, check 4,
/// gap 12). 1460/1538 at an MTU of 1500, 8960/9038 at 9000.
/// </summary>
public readonly record struct EthernetFraming
{
    private const int Headers = 40;
    private const int Timestamps = 12;
    private const int Around = 38;

    private EthernetFraming(int mtu, bool timestamps) => (Mtu, TcpTimestamps) = (mtu, timestamps);

    /// <summary>The usual frames of 1,500 B.</summary>
    public static EthernetFraming Standard => new(1500, false);

    /// <summary>Frames of 9,000 B.</summary>
    public static EthernetFraming Jumbo => new(9000, false);

    /// <summary>Bytes that a frame carries.</summary>
    public int Mtu { get; }

    /// <summary>Whether each segment carries a timestamp.</summary>
    public bool TcpTimestamps { get; }

    /// <summary>Bytes of payload in a frame.</summary>
    public int PayloadBytes => Mtu - Headers - (TcpTimestamps ? Timestamps : 0);

    /// <summary>Bytes of a frame on the wire.</summary>
    public int WireBytes => Mtu + Around;

    /// <summary>Payload ÷ wire, exact.</summary>
    public Rational Share => new(PayloadBytes, WireBytes);

    /// <summary>Creates a framing.</summary>
    /// <param name="mtu">576 (RFC 791's least that all must take) to 65,535.</param>
    /// <param name="tcpTimestamps">Whether each segment carries a timestamp.</param>
    public static EthernetFraming From(int mtu, bool tcpTimestamps = false) => new(Guard.InRange(mtu, 576, 65_535), tcpTimestamps);

    /// <summary>The most payload that a line carries.</summary>
    /// <param name="line">The line rate.</param>
    public DataRate Goodput(DataRate line) => DataRate.FromBitsPerSecond(line.BitsPerSecond * Share);
}
