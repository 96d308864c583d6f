using Grpc.Core;
using PostPipeline.Client;
using PostPipeline.Contracts.Timecodes.V1;
using PostPipeline.Contracts.Types.V1;
using PostPipeline.Services.Tests.Transports;
using Xunit;

namespace PostPipeline.Services.Tests.Timecode;

/// <summary>Rehearsals of the takes that a plan would make.</summary>
public abstract class RehearsalContract<TTransport> : TimecodeHostContract<TTransport>
    where TTransport : ITransportFactory
{
    [Fact]
    public async Task RehearsePlan_OffSpeedUnknown_IsUnknownWithRemedies()
    {
        RehearsePlanResponse response = await RehearseAsync(Plan(), [Take("C1", 36_000, 2880, 96), Take("C2", 36_060, 1440, 24)]);
        Assert.Equal(Verdict.Unknown, response.Verdict);
        Assert.Equal((2L, 7L, 50), (response.Takes, response.Seed, response.Events));
        Assert.Contains(response.Findings, f => f.Name == "labels-overlap" && f.Verdict == Verdict.Unknown && f.Remedy.Length > 0);
    }

    [Fact]
    public async Task RehearsePlan_WrongFields_NamesThemAll()
    {
        PlannedTake take = Take("C1", -1, 0, 24);
        take.Camera = "Z";
        ServiceCallException refused = await Assert.ThrowsAsync<ServiceCallException>(() => RehearseAsync(Plan(), [take]));
        Assert.Equal(StatusCode.InvalidArgument, refused.StatusCode);
        Assert.Equal(
            ["takes[0].camera", "takes[0].frames", "takes[0].start_seconds"],
            refused.Violations.Select(v => v.Field).Order(StringComparer.Ordinal));
    }

    private async Task<RehearsePlanResponse> RehearseAsync(RehearsalSettings settings, PlannedTake[] takes)
    {
        using AsyncClientStreamingCall<RehearsePlanRequest, RehearsePlanResponse> call = Clients.Conform.RehearsePlan();
        await call.RequestStream.WriteAsync(new() { Settings = settings });
        PlannedTakes message = new();
        message.Takes.AddRange(takes);
        await call.RequestStream.WriteAsync(new() { Takes = message });
        await call.RequestStream.CompleteAsync();
        return await call.ResponseAsync;
    }

    private static RehearsalSettings Plan() => new()
    {
        Seed = 7,
        ProjectRate = new() { Numerator = 24, Denominator = 1 },
        Events = 50,
        Cameras = { new CameraSettings { Camera = "A", TimecodeBase = new() { Numerator = 24, Denominator = 1 } } },
    };

    private static PlannedTake Take(string clip, double start, long frames, int sensor) => new()
    {
        Clip = clip,
        Reel = "A001",
        Camera = "A",
        StartSeconds = start,
        Frames = frames,
        SensorRate = new() { Numerator = sensor, Denominator = 1 },
        Chunks = 1,
        RecordRunStartFrame = 5_000,
    };
}

public sealed class EmbeddedRehearsalTests : RehearsalContract<EmbeddedTransport>;

public sealed class NetworkRehearsalTests : RehearsalContract<KestrelTransport>;
