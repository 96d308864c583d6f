using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Footage.Links;
using PostPipeline.Footage.Service.Shared;
using PostPipeline.Quantities;
using CountMessage = PostPipeline.Contracts.Footage.V1.StreamCount;
using StreamCount = PostPipeline.Footage.Links.StreamCount;

namespace PostPipeline.Footage.Service.Storage;

/// <summary>Reads links and arrays and writes the streams they carry.</summary>
internal static class StreamAnswers
{
    public static CountMessage? Answer(StreamItem item, ItemProblems problems, bool explain)
    {
        problems.Label(item.Label);
        Rational stream = problems.Fraction("stream_bytes_per_second", item.StreamBytesPerSecond, 0, 1_000_000_000_000, null, openLow: true);
        Rational share = problems.Fraction("protocol_share", item.ProtocolShare, 0, 1, StreamCount.DefaultProtocolShare, openLow: true);
        Rational headroom = problems.Fraction("headroom", item.Headroom, 0, 1, StreamCount.DefaultHeadroom, openLow: true);
        if (item.Mtu != 0)
        {
            problems.InRange("mtu", item.Mtu, 576, 65_535);
        }

        if (item.CarrierCase == StreamItem.CarrierOneofCase.None)
        {
            problems.Add("carrier", "is not set; allowed is line_bits_per_second or array_bytes_per_second");
        }
        else if (item.CarrierCase == StreamItem.CarrierOneofCase.LineBitsPerSecond)
        {
            problems.InRange("line_bits_per_second", item.LineBitsPerSecond, 1, 1_000_000_000_000_000);
        }
        else
        {
            problems.InRange("array_bytes_per_second", item.ArrayBytesPerSecond, 1, 1_000_000_000_000_000);
        }

        if (!problems.None)
        {
            return null;
        }

        DataRate one = DataRate.FromBytesPerSecond(stream);
        bool line = item.CarrierCase == StreamItem.CarrierOneofCase.LineBitsPerSecond;
        StreamCount count = line
            ? StreamCount.OnLink(DataRate.FromBitsPerSecond(item.LineBitsPerSecond), one, EthernetFraming.From(item.Mtu == 0 ? 1500 : item.Mtu), share, headroom)
            : StreamCount.OnArray(DataRate.FromBytesPerSecond(item.ArrayBytesPerSecond), one, headroom);
        (string, DataRate) carrier = line ? ("line", DataRate.FromBitsPerSecond(item.LineBitsPerSecond)) : ("array, measured", DataRate.FromBytesPerSecond(item.ArrayBytesPerSecond));
        return new()
        {
            Derivation = explain ? Wire.Of(LinkExplanation.Of(count, carrier, one, line ? share : Rational.One, headroom)) : null,
            Plannable = count.Plannable,
            Physical = count.Physical,
            PlannableExact = count.PlannableExact.ToDouble(),
            PhysicalExact = count.PhysicalExact.ToDouble(),
            Tight = count.Tight,
        };
    }
}
