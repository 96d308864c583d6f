using Grpc.Core;
using PostPipeline.Client;
using PostPipeline.Contracts.Timecodes.V1;
using PostPipeline.Contracts.Types.V1;
using PostPipeline.Services.Tests.Transports;
using PostPipeline.Timecodes.Service;
using Xunit;

namespace PostPipeline.Services.Tests.Timecode;

/// <summary>The conform service embedded in the caller's process.</summary>
public class EmbeddedConformGrpcServiceTests : ConformGrpcServiceTests<EmbeddedTransport>;

/// <summary>The conform service behind a real server.</summary>
public class NetworkConformGrpcServiceTests : ConformGrpcServiceTests<KestrelTransport>;

/// <summary>What the conform service answers, over any transport.</summary>
public abstract partial class ConformGrpcServiceTests<TTransport> : IAsyncLifetime
    where TTransport : ITransport, ITransportFactory
{
    private ITransport? transport;
    private ConformService.ConformServiceClient client = null!;

    public async Task InitializeAsync()
    {
        transport = await TTransport.OpenAsync(new(), TimecodeHost.Definition);
        client = SuiteClients.Over(transport.Invoker).Conform;
    }

    public async Task DisposeAsync() => await transport!.DisposeAsync();

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
        using AsyncClientStreamingCall<RehearsePlanRequest, RehearsePlanResponse> call = client.RehearsePlan();
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
