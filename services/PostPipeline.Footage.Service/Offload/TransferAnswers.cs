using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Footage.Links;
using PostPipeline.Footage.Service.Shared;
using PostPipeline.Quantities;

namespace PostPipeline.Footage.Service.Offload;

/// <summary>Reads ways to send material and writes how long they take.</summary>
internal static class TransferAnswers
{
    public static Transfer? Answer(TransferItem item, ItemProblems problems, bool explain)
    {
        problems.Label(item.Label);
        problems.InRange("bytes", item.Bytes, 0, long.MaxValue);
        switch (item.WayCase)
        {
            case TransferItem.WayOneofCase.Wire:
                return ByWire(item.Wire, item.Bytes, problems, explain);
            case TransferItem.WayOneofCase.Road:
                return ByRoad(item.Road, item.Bytes, problems, explain);
            default:
                problems.Add("way", "is not set; allowed is wire or road");
                return null;
        }
    }

    private static Transfer? ByWire(WireTransfer wire, long bytes, ItemProblems problems, bool explain)
    {
        problems.InRange("wire.line_bits_per_second", wire.LineBitsPerSecond, 1, 1e15);
        problems.InRange("wire.our_share", wire.OurShare, 0, 1);
        problems.InRange("wire.round_trip_milliseconds", wire.RoundTripMilliseconds, 0, 100_000);
        problems.InRange("wire.loss", wire.Loss, 0, 1);
        problems.InRange("wire.window_bytes", wire.WindowBytes, 0, 1L << 40);
        problems.InRange("wire.flows", wire.Flows, 0, 10_000);
        if (wire.Mtu != 0)
        {
            problems.InRange("wire.mtu", wire.Mtu, 576, 65_535);
        }

        if (!problems.None)
        {
            return null;
        }

        WideAreaLink link = new(DataRate.FromBitsPerSecond((long)wire.LineBitsPerSecond))
        {
            Framing = EthernetFraming.From(wire.Mtu == 0 ? 1500 : wire.Mtu, wire.TcpTimestamps),
            OurShare = wire.OurShare == 0 ? Rational.One : new Rational((long)Math.Round(wire.OurShare * 1_000_000), 1_000_000),
            RoundTripMilliseconds = wire.RoundTripMilliseconds,
            Loss = wire.Loss,
            WindowBytes = wire.WindowBytes,
            Flows = Math.Max(1, wire.Flows),
        };
        IReadOnlyList<(string Name, double BytesPerSecond)> limits = link.Limits;
        return new()
        {
            Hours = link.Hours(DataSize.FromBytes(bytes)),
            BytesPerSecond = limits[0].BytesPerSecond,
            BindingLimit = limits[0].Name,
            NextLimit = limits.Count > 1 ? limits[1].Name : string.Empty,
            Derivation = explain ? Wire.Of(LinkExplanation.Of(link, DataSize.FromBytes(bytes))) : null,
        };
    }

    private static Transfer? ByRoad(RoadTransfer road, long bytes, ItemProblems problems, bool explain)
    {
        problems.InRange("road.write_bytes_per_second", road.WriteBytesPerSecond, 1, 1e15);
        problems.InRange("road.read_bytes_per_second", road.ReadBytesPerSecond, 1, 1e15);
        problems.InRange("road.travel_hours", road.TravelHours, 0, 10_000);
        if (!problems.None)
        {
            return null;
        }

        Shuttle shuttle = new(road.WriteBytesPerSecond, road.ReadBytesPerSecond, road.TravelHours, road.Verified);
        double hours = shuttle.Hours(DataSize.FromBytes(bytes));
        bool copying = hours - road.TravelHours > road.TravelHours;
        return new()
        {
            Hours = hours,
            BytesPerSecond = hours > 0 ? bytes / hours / 3600 : 0,
            BindingLimit = copying ? "copying" : "the way",
            NextLimit = copying ? "the way" : "copying",
            Derivation = explain ? Wire.Of(LinkExplanation.Of(shuttle, DataSize.FromBytes(bytes)) with { BindingLimit = copying ? "copying" : "the way", NextLimit = copying ? "the way" : "copying" }) : null,
        };
    }
}
