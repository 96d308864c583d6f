using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Contracts.Types.V1;
using PostPipeline.Services.Tests.Transports;
using Xunit;
using static PostPipeline.Services.Tests.Footage.FootageSamples;

namespace PostPipeline.Services.Tests.Footage;

/// <summary>The tree behind every kind of answer.</summary>
public abstract class ExplanationContract<TTransport> : FootageHostContract<TTransport>
    where TTransport : ITransportFactory
{
    // Every kind of answer has its tree on request, and none without; every node of it has a name and a value.
    [Fact]
    public async Task Explain_EveryAnswer_HasItsTreeOnRequestOnly()
    {
        foreach (bool explain in (bool[])[true, false])
        {
            TakesItem takes = new() { TakeFrames = { 100 }, BytesPerFrame = 1000, FileSystem = FileSystem.Fat32 };
            CompareVolumesRequest volumes = new()
            {
                Days = 1,
                Cameras = 1,
                HoursPerCameraDay = new() { Numerator = 1, Denominator = 1 },
                FinishedSeconds = new() { Numerator = 60, Denominator = 1 },
                ShootingRatio = new() { Numerator = 60, Denominator = 1 },
                BytesPerSecond = new() { Numerator = 1000, Denominator = 1 },
                Explain = explain,
            };
            CardLoop loop = new() { Cameras = 1, Stations = 1, CardSeconds = 100, Duty = 1, StationSeconds = 50, SpareCards = 1 };
            StreamItem stream = new() { ArrayBytesPerSecond = 1000, StreamBytesPerSecond = new() { Numerator = 10, Denominator = 1 } };
            RecordingItem recording = Recording(4_423_680, 24, 450);
            SimulateDaysRequest day = new() { Means = Means(1), Explain = explain };
            day.Days.Add(new OffloadDay { WrapSeconds = 100, Cameras = { new CameraDay { Camera = "A", CardBytes = 10, Takes = { new RecordedTake { EndSeconds = 10, Bytes = 25, Files = 1 } } } } });
            PlanOccupancyRequest occupancy = new() { Explain = explain, Tiers = { new Tier { Label = "online" } }, Generations = { new Generation { Label = "originals", Tier = "online", Bytes = 10, Copies = 1 } } };
            EvidenceItem sheet = new() { Label = "A001", Facts = { new EvidenceFact { Fact = "copies equal", State = EvidenceState.Absent } } };
            TransferItem wire = new() { Bytes = 1000, Wire = new() { LineBitsPerSecond = 1e9 } };
            TransferItem road = new() { Bytes = 1000, Road = new() { WriteBytesPerSecond = 100, ReadBytesPerSecond = 100 } };
            EstimateTransfersResponse transfers = await Clients.Offload.EstimateTransfersAsync(new() { Items = { wire, road }, Explain = explain });
            Derivation?[] trees =
            [
                (await Clients.Footage.EstimateRatesAsync(new() { Items = { ClipR() }, Explain = explain })).Results[0].Estimate.Derivation,
                (await Clients.Footage.ListCodingsAsync(new() { Explain = explain })).Codings[0].Derivation,
                (await Clients.Footage.AssessRecordingsAsync(new() { Items = { recording }, Explain = explain })).Results[0].Assessment.Derivation,
                (await Clients.Footage.SumModesAsync(new() { Items = { new CameraModes { Modes = { new ModeTime { Mode = ClipR(), RecordSeconds = new() { Numerator = 1, Denominator = 1 } } } } }, Explain = explain })).Results[0].Total.Derivation,
                (await Clients.Offload.SimulateDaysAsync(day)).Results[0].Offload.Derivation,
                (await Clients.Offload.ReviewReleaseAsync(new() { Items = { sheet }, Explain = explain })).Results[0].Sheet.Derivation,
                (await Clients.Storage.ReviewPurgeAsync(new() { Items = { new EvidenceItem { Label = "mezzanine" } }, Explain = explain })).Results[0].Sheet.Derivation,
                (await Clients.Storage.PlanOccupancyAsync(occupancy)).Tiers[0].Derivation,
                (await Clients.Footage.CutTakesAsync(new() { Items = { takes }, Explain = explain })).Results[0].Tally.Derivation,
                (await Clients.Footage.CompareVolumesAsync(volumes)).Derivation,
                (await Clients.Offload.CountCardsAsync(new() { Items = { loop }, Explain = explain })).Results[0].Count.Derivation,
                (await Clients.Offload.PlanTapesAsync(new() { Items = { new TapeItem { Bytes = 1, Generation = 9 } }, Explain = explain })).Results[0].Plan.Derivation,
                transfers.Results[0].Transfer.Derivation,
                transfers.Results[1].Transfer.Derivation,
                (await Clients.Storage.PlanDisksAsync(new() { Items = { new DiskItem { Drives = 10, DriveBytes = 10, DataDrives = 8, ParityDrives = 2 } }, Explain = explain })).Results[0].Plan.Derivation,
                (await Clients.Storage.CountStreamsAsync(new() { Items = { stream }, Explain = explain })).Results[0].Count.Derivation,
                (await Clients.Storage.CheckSeatsAsync(new() { Items = { new SeatItem { Layers = 1, Rate = Rate(25) } }, Explain = explain })).Results[0].Check.Derivation,
                (await Clients.Storage.SumDemandAsync(new() { Explain = explain })).Derivation,
                (await Clients.Storage.EstimatePowerAsync(new() { Items = { new PowerItem { Watts = 1, Volts = 230 } }, Explain = explain })).Results[0].Estimate.Derivation,
            ];
            Assert.All(trees, t => Assert.Equal(explain, t is not null));
            Assert.All(trees.OfType<Derivation>(), t =>
            {
                Assert.NotEmpty(t.Formula);
                Assert.NotEmpty(t.Inputs);
                Assert.All(Nodes(t), n => Assert.True(n.Value.Length > 0 && n.Name.Length > 0));
            });
        }
    }
}

public sealed class EmbeddedExplanationTests : ExplanationContract<EmbeddedTransport>;

public sealed class NetworkExplanationTests : ExplanationContract<KestrelTransport>;
