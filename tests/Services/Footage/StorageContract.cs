using PostPipeline.Client;
using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Services.Tests.Transports;
using Xunit;
using static PostPipeline.Services.Tests.Footage.FootageSamples;

namespace PostPipeline.Services.Tests.Footage;

/// <summary>Occupancy of tiers, disks, streams, seats, power and demand. Figures: common practice, no source; see the domain's tests.</summary>
public abstract class StorageContract<TTransport> : FootageHostContract<TTransport>
    where TTransport : ITransportFactory
{
    [Fact]
    public async Task PlanOccupancy_TwoTiers_ShowsBothPeaksAndTheAlarms()
    {
        PlanOccupancyRequest request = new() { Explain = true };
        request.Tiers.Add(new Tier { Label = "online", UsableBytes = 100_000, Redundancy = new() { Numerator = 5, Denominator = 4 } });
        request.Tiers.Add(new Tier { Label = "nearline" });
        request.Generations.Add(new Generation { Label = "originals", Tier = "nearline", Bytes = 70_000, Copies = 2, FromSeconds = 0, CompleteSeconds = 1000 });
        request.Generations.Add(new Generation { Label = "mezzanine", Tier = "online", Bytes = 90_000, Copies = 1, FromSeconds = 0, CompleteSeconds = 900, PurgeSeconds = 2000, PurgeTrigger = "delivery accepted" });
        PlanOccupancyResponse response = await Clients.Storage.PlanOccupancyAsync(request);
        TierOccupancy online = response.Tiers[0];
        Assert.Equal((90_000, 900, 0), (online.PeakBytes, online.PeakSeconds, online.EndBytes));
        Assert.Equal((800, 900, false), (online.AlarmSeconds, online.StopIngestSeconds, online.HasFullSeconds));
        Assert.Equal((140_625, -10_000), (online.ToBuyBytes, online.SpareBytes));
        Assert.Equal([(0, 0), (900, 90_000), (2000, 90_000), (2000, 0)], online.Points.Select(p => (p.AtSeconds, p.Bytes)));
        Assert.Equal((140_000, 175_000), (response.Tiers[1].PeakBytes, response.Tiers[1].ToBuyBytes));
        Assert.Equal((230_000, 1000), (response.PeakBytes, response.PeakSeconds));
        Assert.Equal("140625", online.Derivation.Value);
    }

    [Fact]
    public async Task PlanOccupancy_Wrong_CollectsEveryViolation()
    {
        PlanOccupancyRequest request = new();
        request.Tiers.Add(new Tier { Label = "online", Free = new() { Numerator = 1, Denominator = 1 } });
        request.Generations.Add(new Generation { Label = "originals", Tier = "onlin", Bytes = -1, Copies = 0, FromSeconds = 10, CompleteSeconds = 5 });
        ServiceCallException refused = await Assert.ThrowsAsync<ServiceCallException>(async () => await Clients.Storage.PlanOccupancyAsync(request));
        Assert.Equal(
            ["tiers[0]", "generations[0].tier", "generations[0].bytes", "generations[0].copies", "generations[0].complete_seconds"],
            refused.Violations.Select(v => v.Field));
    }

    // Exact at 9 EB, refused beyond, never wrapped.
    [Fact]
    public async Task PlanOccupancy_NineExabytes_IsExactAndBeyondIsRefused()
    {
        PlanOccupancyRequest request = new();
        request.Tiers.Add(new Tier { Label = "archive", Free = new() { Numerator = 0, Denominator = 1 } });
        request.Generations.Add(new Generation { Label = "masters", Tier = "archive", Bytes = 9_000_000_000_000_000_000, Copies = 1 });
        Assert.Equal(9_000_000_000_000_000_000, (await Clients.Storage.PlanOccupancyAsync(request)).Tiers[0].ToBuyBytes);
        request.Generations.Add(new Generation { Label = "more", Tier = "archive", Bytes = 300_000_000_000_000_000, Copies = 1 });
        ServiceCallException refused = await Assert.ThrowsAsync<ServiceCallException>(async () => await Clients.Storage.PlanOccupancyAsync(request));
        Assert.Equal("generations", refused.Violations[0].Field);
    }

    [Fact]
    public async Task Storage_DisksStreamsSeatsPower_AnswerTheWorkedExamples()
    {
        DiskPlan disks = (await Clients.Storage.PlanDisksAsync(new() { Items = { new DiskItem { Drives = 24, DriveBytes = 20_000_000_000_000, DataDrives = 8, ParityDrives = 2, SpareDrives = 2, RebuildBytesPerSecond = 200e6 } } })).Results[0].Plan;
        Assert.Equal((320_000_000_000_000, 256_000_000_000_000, 1.25), (disks.UsableBytes, disks.PlannableBytes, disks.CostFactor));
        StreamItem link = new() { LineBitsPerSecond = 1_000_000_000, StreamBytesPerSecond = new() { Numerator = 87_390_000, Denominator = 1 } };
        StreamCount streams = (await Clients.Storage.CountStreamsAsync(new() { Items = { link } })).Results[0].Count;
        Assert.Equal((0, 1, true), (streams.Plannable, streams.Physical, streams.Tight));
        CheckSeatsResponse seats = await Clients.Storage.CheckSeatsAsync(new() { Items = { new SeatItem { Layers = 4, Rate = Rate(25), MeasuredFramesPerSecond = 149 }, new SeatItem { Layers = 4, Rate = Rate(25) } } });
        Assert.Equal([SeatVerdict.Tight, SeatVerdict.NotMeasured], seats.Results.Select(r => r.Check.Verdict));
        PowerEstimate power = (await Clients.Storage.EstimatePowerAsync(new() { Items = { new PowerItem { Watts = 9300, Volts = 230 } } })).Results[0].Estimate;
        Assert.Equal((31_732, 53.2), (Math.Round(power.HeatBtuPerHour), Math.Round(power.CircuitAmperes, 1)));
        Assert.Contains("electrician", power.Caution, StringComparison.Ordinal);
    }

    [Fact]
    public async Task SumDemand_SeatsAndFarm_SaysWhatIsLeftForNodes()
    {
        SumDemandRequest request = new() { MeasuredBytesPerSecond = 2_000e6, Node = new() { BytesPerFrame = 57_507_840, SecondsPerFrame = 0.5 } };
        request.Seats.Add(new SeatDemand { Count = 4, Streams = 2, StreamBytesPerSecond = new() { Numerator = 100_000_000, Denominator = 1 } });
        SumDemandResponse response = await Clients.Storage.SumDemandAsync(request);
        Assert.Equal((800e6, 8, 10.4), (response.DemandBytesPerSecond, response.Readers, Math.Round(response.NodesFed, 1)));
        request.Seats[0].Streams = 0;
        ServiceCallException refused = await Assert.ThrowsAsync<ServiceCallException>(async () => await Clients.Storage.SumDemandAsync(request));
        Assert.Equal("seats[0].streams", refused.Violations[0].Field);
    }
}

public sealed class EmbeddedStorageTests : StorageContract<EmbeddedTransport>;

public sealed class NetworkStorageTests : StorageContract<KestrelTransport>;
