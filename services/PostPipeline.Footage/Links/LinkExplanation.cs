using PostPipeline.Quantities;

namespace PostPipeline.Footage.Links;

/// <summary>The trees behind streams and transfers.</summary>
public static class LinkExplanation
{
    /// <summary>Explains streams on a line or an array.</summary>
    /// <param name="count">The answer.</param>
    /// <param name="carrier">What carries them: its name and rate.</param>
    /// <param name="stream">One stream.</param>
    /// <param name="share">What a sharing protocol leaves; 1 on an array.</param>
    /// <param name="headroom">What a plan fills.</param>
    public static Derivation Of(StreamCount count, (string Name, DataRate Rate) carrier, DataRate stream, Rational share, Rational headroom) => new()
    {
        Name = "plannable streams",
        Formula = "⌊rate × protocol share × headroom ÷ stream⌋",
        Substituted = $"⌊{carrier.Rate.BytesPerSecond} × {share} × {headroom} ÷ {stream.BytesPerSecond}⌋ = ⌊{count.PlannableExact.ToDouble():0.###}⌋",
        Value = count.Plannable.ToString(),
        Source = "common practice, no source",
        Margin = headroom < 1 ? "headroom of the link or array" : string.Empty,
        BindingLimit = carrier.Name,
        Inputs =
        [
            Derivation.Input(carrier.Name, carrier.Rate.BytesPerSecond.ToString(), "B/s"), Derivation.Input("stream", stream.BytesPerSecond.ToString(), "B/s"),
            Derivation.Input("protocol share", share.ToString()), Derivation.Input("headroom", headroom.ToString()),
            Derivation.Input("physical streams", $"{count.Physical} ({count.PhysicalExact.ToDouble():0.###})"),
        ],
    };

    /// <summary>Explains a way by wire.</summary>
    /// <param name="link">The link.</param>
    /// <param name="size">What is sent.</param>
    public static Derivation Of(WideAreaLink link, DataSize size) => new()
    {
        Name = "hours by wire",
        Formula = "bytes ÷ slowest limit ÷ 3600",
        Substituted = $"{size.Bytes} ÷ {link.BytesPerSecond:0} ({link.Limits[0].Name}) ÷ 3600",
        Value = link.Hours(size).ToString("0.###"),
        Unit = "h",
        BindingLimit = link.Limits[0].Name,
        NextLimit = link.Limits.Count > 1 ? link.Limits[1].Name : string.Empty,
        Inputs =
        [
            Derivation.Input("bytes", size.Bytes.ToString(), "B"), Derivation.Input("payload share of the framing", link.Framing.Share.ToString(), source: "IEEE 802.3, RFC 791, RFC 9293: header sizes", known: Known.Quoted),
            .. link.Limits.Select(l => Derivation.Input(l.Name, l.BytesPerSecond.ToString("0"), "B/s", l.Name.StartsWith("loss", StringComparison.Ordinal) ? "Mathis et al. 1997: segment ÷ round trip × √(3/2) ÷ √loss" : string.Empty)),
        ],
    };

    /// <summary>Explains a way by road.</summary>
    /// <param name="shuttle">The drive.</param>
    /// <param name="size">What is carried.</param>
    public static Derivation Of(Shuttle shuttle, DataSize size) => new()
    {
        Name = "hours by road",
        Formula = shuttle.Verified ? "bytes ÷ write + bytes ÷ read + 2 × bytes ÷ read (both copies read again) + way" : "bytes ÷ write + bytes ÷ read + way",
        Substituted = $"{size.Bytes} B at {shuttle.WriteBytesPerSecond:0} and {shuttle.ReadBytesPerSecond:0} B/s, and {shuttle.TravelHours:0.##} h",
        Value = shuttle.Hours(size).ToString("0.###"),
        Unit = "h",
        Source = "common practice, no source; driving and rest rules prevail",
        Inputs = [Derivation.Input("bytes", size.Bytes.ToString(), "B"), Derivation.Input("way", shuttle.TravelHours.ToString("0.##"), "h")],
    };
}
