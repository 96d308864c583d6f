using System.Globalization;
using CsCheck;
using PostPipeline.Footage.Evidences;
using PostPipeline.Footage.Links;
using PostPipeline.Footage.Power;
using PostPipeline.Footage.Seats;
using PostPipeline.Footage.Stores;
using PostPipeline.Footage.Tapes;
using PostPipeline.Quantities;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Domain.Tests.Footage;

// Links, tapes, seats, array, power and evidence. Worked examples: invented inputs, common practice, no source.
public class LinkTests
{
    private const double Printed = 0.0005;
    private static readonly DataRate ClipR = DataRate.FromBytesPerSecond(106_168_320);

    public static TheoryData<int> GoodputRows => [.. Enumerable.Range(0, 4)];

    // storage/ethernet_goodput.csv: exact arithmetic on IEEE 802.3, IPv4 and TCP header sizes; printed to 9 and 3 decimals.
    [Theory]
    [MemberData(nameof(GoodputRows))]
    public void EthernetFraming_TableRow_IsEqualAsPrinted(int index)
    {
        CsvTable.Row row = CsvTable.Read(Outside.Table("storage/ethernet_goodput.csv")).Rows[index];
        EthernetFraming framing = EthernetFraming.From(int.Parse(row["mtu"], CultureInfo.InvariantCulture), row["tcp_timestamps"] == "yes");
        Assert.Equal(row["tcp_payload_bytes"], framing.PayloadBytes.ToString(CultureInfo.InvariantCulture));
        Assert.Equal(row["wire_bytes(MTU+14+4+8+12)"], framing.WireBytes.ToString(CultureInfo.InvariantCulture));
        Assert.Equal(Number(row["efficiency"]), framing.Share.ToDouble(), 5e-10);
        foreach (int gigabits in (int[])[1, 10, 25, 40, 100])
        {
            DataRate line = DataRate.FromBitsPerSecond(gigabits * 1_000_000_000L);
            Assert.Equal(Number(row[$"MBps_at_{gigabits}G"]), framing.Goodput(line).MegabytesPerSecond, Printed);
        }
    }

    public static TheoryData<int> TapeRows => [.. Enumerable.Range(0, 6)];

    // storage/lto_generations.csv: a source in each row.
    [Theory]
    [MemberData(nameof(TapeRows))]
    public void TapeGeneration_TableRow_IsEqual(int index)
    {
        CsvTable.Row row = CsvTable.Read(Outside.Table("storage/lto_generations.csv")).Rows[index];
        TapeGeneration tape = TapeGeneration.Find(int.Parse(row["generation"], CultureInfo.InvariantCulture));
        Assert.Equal(Number(row["native_TB"]), tape.Capacity.Terabytes);
        Assert.Equal(Number(row["native_MBps_max"]), tape.Rate.MegabytesPerSecond);
        Assert.Equal(Number(row["hours_to_fill_at_max_rate"]), tape.FillSeconds.ToDouble() / 3600, 0.00005);
    }

    // Value from memory: generations 5 to 7 read two back, 8 and 9 one, 10 only its own.
    [Fact]
    public void TapeGeneration_Reads_OneOrTwoGenerationsBack()
    {
        Assert.Equal([true, true, true, false], new[] { 7, 6, 5, 4 }.Select(TapeGeneration.Find(7).Reads));
        Assert.Equal([true, true, false], new[] { 9, 8, 7 }.Select(TapeGeneration.Find(9).Reads));
        Assert.False(TapeGeneration.Find(8).Reads(9));
        Assert.False(TapeGeneration.Find(7).Writes(5));
    }

    // 71.66 TB · 1.15 = 82.41 TB; 18 TB at 92 %: 4.98 → 5 a set, ten for two; 305 drive-hours for both at 300 MB/s with verify.
    [Fact]
    public void TapePlan_ReferenceVolume_NeedsTenCartridges()
    {
        TapePlan plan = TapePlan.Of(DataSize.FromBytes(71_663_616_000_000), new(3, 20), TapeGeneration.Find(9), DataRate.FromBytesPerSecond(300_000_000));
        Assert.Equal((82.41, 4.98, 5, 10), (Math.Round(plan.Volume.Terabytes, 2), Math.Round(plan.CartridgesExact.ToDouble(), 2), plan.CartridgesPerSet, plan.Cartridges));
        Assert.Equal(305, Math.Round(plan.DriveHours.ToDouble()));
        TapePlan fresh = TapePlan.Of(DataSize.FromBytes(71_663_616_000_000), new(3, 20), TapeGeneration.Find(9), DataRate.FromBytesPerSecond(300_000_000), calibrate: true);
        Assert.Equal(20, fresh.DriveHours - plan.DriveHours);
        Assert.Equal(plan.DriveHours / 2, plan.ClockHours(2));
    }

    // 10 GbE at 1,250 · 0.9 · 0.7 = 787.5 MB/s: R 7; 1 GbE, 78.75 MB/s: 0 plannable streams of an 87.39 MB/s mezzanine, 1 physically (tight).
    [Fact]
    public void StreamCount_Links_AreCountedDown()
    {
        StreamCount ten = StreamCount.OnLink(DataRate.FromBitsPerSecond(10_000_000_000), ClipR, EthernetFraming.Standard);
        Assert.Equal((7, 787_500_000), (ten.Plannable, ten.PlannableExact * ClipR.BytesPerSecond));
        StreamCount one = StreamCount.OnLink(DataRate.FromBitsPerSecond(1_000_000_000), DataRate.FromBytesPerSecond(87_390_000), EthernetFraming.Standard);
        Assert.Equal((0, 1, true), (one.Plannable, one.Physical, one.Tight));
        Assert.Equal((6, 9), (StreamCount.OnArray(DataRate.FromBytesPerSecond(1_000_000_000), ClipR).Plannable, StreamCount.OnArray(DataRate.FromBytesPerSecond(1_000_000_000), ClipR).Physical));
    }

    // (53.084 + 4.424) / 0.5 s = 115.0 MB/s a node; 1,200 MB/s left over by seats: 10.4 → 10 useful, the eleventh adds 0.4.
    [Fact]
    public void NodesFed_ReferenceRender_IsTenPointFour()
    {
        Rational nodes = ArrayDemand.NodesFed(DataRate.FromBytesPerSecond(1_200_000_000), 53_084_160 + 4_423_680, new(1, 2));
        Assert.Equal((10, 10.4), (nodes.Floor(), Math.Round(nodes.ToDouble(), 1)));
        Assert.Equal(115.0, Math.Round((53_084_160 + 4_423_680) / 0.5 / 1e6, 1));
    }

    // Derived by hand: 3 seats × 2 streams × 106.16832 × 0.7 + 200 + 100 = 745.9 MB/s; ÷ 0.7.
    [Fact]
    public void ArrayDemand_SeatsAndOthers_PutHeadroomOnOnce()
    {
        ArrayDemand demand = new()
        {
            Seats = [SeatDemand.From(3, 2, ClipR, new(7, 10))],
            Others = [("farm", DataRate.FromBytesPerSecond(200_000_000)), ("ingest", DataRate.FromBytesPerSecond(100_000_000))],
        };
        Assert.Equal(745_906_944, demand.Demand.BytesPerSecond);
        Assert.Equal(demand.Demand.BytesPerSecond * new Rational(10, 7), demand.Rated.BytesPerSecond);
        Assert.Equal(8, demand.Readers);
    }

    // Comfortable from 1.5 times, tight from 1, fails below (common practice, no source); not measured is not a pass.
    [Theory]
    [InlineData(4, 150, SeatVerdict.Comfortable)]
    [InlineData(4, 149, SeatVerdict.Tight)]
    [InlineData(4, 100, SeatVerdict.Tight)]
    [InlineData(4, 99, SeatVerdict.Fails)]
    [InlineData(4, -1, SeatVerdict.NotMeasured)]
    public void SeatCheck_Layers_AreHeldAgainstMeasuredDecoding(int layers, int measured, SeatVerdict verdict) =>
        Assert.Equal(verdict, SeatCheck.Of(layers, FrameRate.Fps25, measured < 0 ? null : measured).Verdict);

    [Fact]
    public void SeatCheck_TooLittleMemory_Fails()
    {
        SeatCheck seat = SeatCheck.Of(4, FrameRate.Fps25, 1000, 53_084_160, 50, DataSize.FromBytes(8_000_000_000));
        Assert.Equal((4 * 50 * 53_084_160L, SeatVerdict.Fails), (seat.MemoryBytes, seat.Verdict));
    }

    // Mathis et al. 1997: MSS 1460 B, 100 ms, loss 1e-4: 1460/0.1·1.2247/0.01 = 1.788 MB/s a flow. Window 64 KiB at 100 ms: 0.655 MB/s.
    [Fact]
    public void WideAreaLink_OneFlow_IsLimitedByLossAndDistance()
    {
        WideAreaLink link = new(DataRate.FromBitsPerSecond(1_000_000_000)) { RoundTripMilliseconds = 100, Loss = 1e-4 };
        Assert.Equal(("loss and round trip", 1.788), (link.Limits[0].Name, Math.Round(link.BytesPerSecond / 1e6, 3)));
        WideAreaLink window = link with { WindowBytes = 65_536 };
        Assert.Equal(("window and round trip", 0.655), (window.Limits[0].Name, Math.Round(window.BytesPerSecond / 1e6, 3)));
        WideAreaLink many = link with { Flows = 100, OurShare = new(9, 10) };
        Assert.Equal(("line", 106.795), (many.Limits[0].Name, Math.Round(many.BytesPerSecond / 1e6, 3)));
        Assert.Equal(1, (link with { Loss = 0, RoundTripMilliseconds = 0 }).Hours(DataSize.FromBytes((long)(118_660_598.17945383 * 3600))), 6);
    }

    // Derived by hand: 1 TB at 500 on and 500 off, each read again: 4 × 2,000 s = 2.22 h, and 3 h on the road.
    [Fact]
    public void Shuttle_OneTerabyte_TakesItsCopiesAndItsWay()
    {
        Assert.Equal(5.22, Math.Round(new Shuttle(500e6, 500e6, 3).Hours(DataSize.FromBytes(1_000_000_000_000)), 2));
        Assert.Equal(4.11, Math.Round(new Shuttle(500e6, 500e6, 3, Verified: false).Hours(DataSize.FromBytes(1_000_000_000_000)), 2));
    }

    // 12 × 0.65 + 1.5 = 9.3 kW = 31,732 BTU/h; 230 V at unity 40.4 A; ÷ 0.95 = 42.6 A; continuous ÷ 0.8 = 53.2 A. NEC: value from memory.
    [Fact]
    public void ElectricalLoad_ReferenceRoom_HasItsHeatAndAmperes()
    {
        ElectricalLoad load = ElectricalLoad.From((12 * new Rational(650, 1)) + 1500, 230);
        Assert.Equal((9300, 31_732), (load.Watts, load.HeatBtuPerHour.RoundHalfAwayFromZero()));
        Assert.Equal((40.4, 42.6, 53.2), (Math.Round(load.AmperesAtUnity.ToDouble(), 1), Math.Round(load.Amperes.ToDouble(), 1), Math.Round(load.CircuitAmperes.ToDouble(), 1)));
        Assert.Contains("electrician", ElectricalLoad.Caution, StringComparison.Ordinal);
    }

    [Fact]
    public void EvidenceSheet_AnyOpenFact_MeansDoNotClear()
    {
        EvidenceSheet none = EvidenceSheet.ForRelease("A001", new Dictionary<string, EvidenceState>());
        Assert.Equal("Do not clear: 0 absent, 10 unknown of 10 facts.", none.Foot);
        Dictionary<string, EvidenceState> all = EvidenceSheet.ReleaseFacts.ToDictionary(f => f, _ => EvidenceState.Present);
        Assert.DoesNotContain("safe", EvidenceSheet.ForRelease("A001", all).Foot, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("A named person decides", EvidenceSheet.ForRelease("A001", all).Foot, StringComparison.Ordinal);
        all[EvidenceSheet.ReleaseFacts[4]] = EvidenceState.Absent;
        Assert.Equal("Do not clear: 1 absent, 0 unknown of 10 facts.", EvidenceSheet.ForRelease("A001", all).Foot);
        Assert.Throws<ArgumentException>(() => EvidenceSheet.ForPurge("mezzanine", all));
    }

    // Properties: more line is never fewer streams or later; two sets are twice one.
    [Fact]
    public void Links_MoreBandwidth_IsNeverWorse() =>
        Gen.Select(Gen.Long[1, 100_000_000_000], Gen.Long[0, 100_000_000_000], Gen.Long[1, 10_000_000_000], Gen.Long[0, 1_000_000_000_000_000]).Sample((line, more, stream, bytes) =>
        {
            DataRate slow = DataRate.FromBitsPerSecond(line);
            DataRate fast = DataRate.FromBitsPerSecond(line + more);
            DataRate one = DataRate.FromBytesPerSecond(stream);
            Assert.True(StreamCount.OnLink(fast, one, EthernetFraming.Jumbo).Plannable >= StreamCount.OnLink(slow, one, EthernetFraming.Jumbo).Plannable);
            Assert.True(new WideAreaLink(fast).Hours(DataSize.FromBytes(bytes)) <= new WideAreaLink(slow).Hours(DataSize.FromBytes(bytes)));
        });

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
