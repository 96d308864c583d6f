using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Contracts.Types.V1;
using PostPipeline.Services.Tests.Transports;
using Xunit;

namespace PostPipeline.Services.Tests.Footage;

/// <summary>Cards in rotation, evidence, tapes and ways to send. Figures: common practice, no source; see the domain's tests.</summary>
public abstract class OffloadContract<TTransport> : FootageHostContract<TTransport>
    where TTransport : ITransportFactory
{
    [Fact]
    public async Task CountCards_ReferenceLoops_CountOrRefuse()
    {
        CardLoop Loop(int cameras, double duty) => new() { Cameras = cameras, Stations = 1, CardSeconds = 77.2226 * 60, Duty = duty, StationSeconds = 4096, OtherSeconds = 2400, SpareCards = 1 };
        CountCardsResponse response = await Clients.Offload.CountCardsAsync(new() { Items = { Loop(1, 1), Loop(3, 1), Loop(3, 0.25), Loop(0, 2) } });
        Assert.Equal([4, 0, 3], response.Results.Take(3).Select(r => r.Count.CardsPerCamera));
        Assert.True(response.Results[1].Count.NeverCatchesUp);
        Assert.Equal("cameras", response.Results[3].Error.Field);
        Assert.Contains("duty is 2", response.Results[3].Error.Description, StringComparison.Ordinal);
    }

    [Fact]
    public async Task ReviewRelease_UnknownFact_MeansDoNotClearAndNothingIsCalledSafe()
    {
        EvidenceItem item = new() { Label = "A001" };
        EvidenceSheet blank = (await Clients.Offload.ReviewReleaseAsync(new() { Items = { item } })).Results[0].Sheet;
        Assert.Equal((10, 0), (blank.Unknown, blank.Absent));
        Assert.StartsWith("Do not clear", blank.Foot, StringComparison.Ordinal);
        item.Facts.AddRange(blank.Facts.Select(f => new EvidenceFact { Fact = f.Fact, State = EvidenceState.Present }));
        EvidenceSheet all = (await Clients.Offload.ReviewReleaseAsync(new() { Items = { item } })).Results[0].Sheet;
        Assert.Equal(0, all.Unknown + all.Absent);
        Assert.DoesNotContain("safe", all.ToString(), StringComparison.OrdinalIgnoreCase);
        Assert.Contains("named person", all.Foot, StringComparison.Ordinal);
        ItemError error = (await Clients.Storage.ReviewPurgeAsync(new() { Items = { item } })).Results[0].Error;
        Assert.Equal("facts[0].fact", error.Field);
    }

    [Fact]
    public async Task PlanTapes_ReferenceVolume_IsTenCartridges()
    {
        TapeItem item = new() { Bytes = 71_663_616_000_000, OtherPart = new() { Numerator = 3, Denominator = 20 }, Generation = 9, DriveBytesPerSecond = 300e6, ReadBackGeneration = 10 };
        TapePlan plan = (await Clients.Offload.PlanTapesAsync(new() { Items = { item } })).Results[0].Plan;
        Assert.Equal((5, 10, 305, 4.98), (plan.CartridgesPerSet, plan.Cartridges, Math.Round(plan.DriveHours), Math.Round(plan.CartridgesExact, 2)));
        Assert.Equal(Verdict.Fail, plan.ReadBack);
        Assert.Equal(["other material", "cartridge fill"], plan.Margins);
    }

    [Fact]
    public async Task EstimateTransfers_WireAndRoad_NameTheirLimits()
    {
        EstimateTransfersRequest request = new();
        request.Items.Add(new TransferItem { Bytes = 1_000_000_000_000, Wire = new() { LineBitsPerSecond = 1e9, RoundTripMilliseconds = 100, Loss = 1e-4 } });
        request.Items.Add(new TransferItem { Bytes = 1_000_000_000_000, Road = new() { WriteBytesPerSecond = 500e6, ReadBytesPerSecond = 500e6, TravelHours = 3, Verified = true } });
        request.Items.Add(new TransferItem());
        EstimateTransfersResponse response = await Clients.Offload.EstimateTransfersAsync(request);
        Assert.Equal(("loss and round trip", "line"), (response.Results[0].Transfer.BindingLimit, response.Results[0].Transfer.NextLimit));
        Assert.Equal((5.22, "the way"), (Math.Round(response.Results[1].Transfer.Hours, 2), response.Results[1].Transfer.BindingLimit));
        Assert.Equal("way", response.Results[2].Error.Field);
    }
}

public sealed class EmbeddedOffloadTests : OffloadContract<EmbeddedTransport>;

public sealed class NetworkOffloadTests : OffloadContract<KestrelTransport>;
