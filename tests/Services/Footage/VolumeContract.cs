using PostPipeline.Client;
using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Contracts.Types.V1;
using PostPipeline.Services.Tests.Transports;
using Xunit;
using static PostPipeline.Services.Tests.Footage.FootageSamples;

namespace PostPipeline.Services.Tests.Footage;

/// <summary>What a day, a take or a whole shoot makes. Clip R: common practice, no source; see the domain's tests.</summary>
public abstract class VolumeContract<TTransport> : FootageHostContract<TTransport>
    where TTransport : ITransportFactory
{
    // Derived by hand: an hour of clip R, and a minute of it over-cranked four times.
    [Fact]
    public async Task SumModes_MixedDay_AddsModes()
    {
        RateItem fast = ClipR();
        fast.SensorRate = Rate(96);
        CameraModes camera = new() { Label = "A" };
        camera.Modes.Add(new ModeTime { Mode = ClipR(), RecordSeconds = new() { Numerator = 3600, Denominator = 1 } });
        camera.Modes.Add(new ModeTime { Mode = fast, RecordSeconds = new() { Numerator = 60, Denominator = 1 } });
        CameraModes bad = new() { Label = "B", Modes = { new ModeTime { Mode = ClipR() }, new ModeTime { RecordSeconds = new() { Numerator = 1, Denominator = 1 } } } };
        SumModesResponse response = await Clients.Footage.SumModesAsync(new() { Items = { camera, bad }, Explain = true });
        ModesTotal total = response.Results[0].Total;
        Assert.Equal([106_168_320L * 3600, 424_673_280L * 60], total.ModeBytes);
        Assert.Equal((response.Bytes, total.Bytes, 24 * 3600 + (96 * 60)), (total.Bytes, total.ModeBytes.Sum(), total.Frames));
        Assert.Equal($"{total.Bytes}", total.Derivation.Value);
        ItemError error = response.Results[1].Error;
        Assert.Equal("modes[0].record_seconds", error.Field);
        Assert.Contains("modes[1].mode is not set", error.Description, StringComparison.Ordinal);
    }

    [Fact]
    public async Task CutTakes_ReferenceTake_Is18FilesTheLastOf790()
    {
        TakesItem item = new() { TakeFrames = { 17_280, 970 }, BytesPerFrame = 4_423_680, FileSystem = FileSystem.Fat32 };
        TakesTally tally = (await Clients.Footage.CutTakesAsync(new() { Items = { item } })).Results[0].Tally;
        Assert.Equal((18, 970, 790), (tally.Takes[0].Files, tally.Takes[0].FramesPerFile, tally.Takes[0].LastFrames));
        Assert.Equal((19, 18_250, 18_250 * 4_423_680L), (tally.Files, tally.Frames, tally.Bytes));
    }

    [Fact]
    public async Task CompareVolumes_ReferencePlan_IsFlagged()
    {
        CompareVolumesRequest request = new()
        {
            Days = 25,
            Cameras = 3,
            HoursPerCameraDay = new() { Numerator = 5, Denominator = 2 },
            FinishedSeconds = new() { Numerator = 6600, Denominator = 1 },
            ShootingRatio = new() { Numerator = 25, Denominator = 1 },
            BytesPerSecond = new() { Numerator = 106_168_320, Denominator = 1 },
        };
        CompareVolumesResponse response = await Clients.Footage.CompareVolumesAsync(request);
        Assert.Equal((71_663_616_000_000, true, 102), (response.BytesByDays, response.Flagged, Math.Round(response.ImpliedRatio)));
        request.Days = 0;
        request.ShootingRatio = null;
        ServiceCallException refused = await Assert.ThrowsAsync<ServiceCallException>(async () => await Clients.Footage.CompareVolumesAsync(request));
        Assert.Equal(["days", "shooting_ratio"], refused.Violations.Select(v => v.Field));
    }
}

public sealed class EmbeddedVolumeTests : VolumeContract<EmbeddedTransport>;

public sealed class NetworkVolumeTests : VolumeContract<KestrelTransport>;
