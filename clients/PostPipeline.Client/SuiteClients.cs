using Grpc.Core;
using Grpc.Core.Interceptors;
using PostPipeline.Client.Calls;
using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Contracts.Timecodes.V1;

namespace PostPipeline.Client;

/// <summary>
/// A typed client for each service. Every call carries a deadline, versions and a correlation id; errors come back as
/// <see cref="ServiceCallException"/>. Takes call invokers, so that callers do not know whether the services run in
/// their own process or in others.
/// </summary>
public sealed class SuiteClients
{
    /// <summary>Creates the clients.</summary>
    /// <param name="timecode">Reaches the timecode host.</param>
    /// <param name="footage">Reaches the footage host.</param>
    /// <param name="rendering">Reaches the rendering host.</param>
    /// <param name="options">How to call; the defaults where null.</param>
    public SuiteClients(CallInvoker timecode, CallInvoker footage, CallInvoker rendering, ClientOptions? options = null)
    {
        CallerInterceptor caller = new(options ?? new());
        (timecode, footage, rendering) = (timecode.Intercept(caller), footage.Intercept(caller), rendering.Intercept(caller));
        Timecode = new(timecode);
        Conform = new(timecode);
        Footage = new(footage);
        Offload = new(footage);
        Storage = new(footage);
        Benchmarks = new(rendering);
        RenderTimes = new(rendering);
        Farm = new(rendering);
    }

    /// <summary>Labels and frame indices.</summary>
    public TimecodeService.TimecodeServiceClient Timecode { get; }

    /// <summary>Edit lists, inventories, rehearsal.</summary>
    public ConformService.ConformServiceClient Conform { get; }

    /// <summary>Rates, media, bursts.</summary>
    public FootageService.FootageServiceClient Footage { get; }

    /// <summary>The day's offload.</summary>
    public OffloadService.OffloadServiceClient Offload { get; }

    /// <summary>Storage over time.</summary>
    public StorageService.StorageServiceClient Storage { get; }

    /// <summary>Benchmark sets.</summary>
    public BenchmarkService.BenchmarkServiceClient Benchmarks { get; }

    /// <summary>Seconds per frame.</summary>
    public RenderTimeService.RenderTimeServiceClient RenderTimes { get; }

    /// <summary>The farm.</summary>
    public FarmService.FarmServiceClient Farm { get; }

    /// <summary>Clients over one invoker that reaches all hosts.</summary>
    /// <param name="all">Reaches all hosts.</param>
    /// <param name="options">How to call; the defaults where null.</param>
    public static SuiteClients Over(CallInvoker all, ClientOptions? options = null) => new(all, all, all, options);
}
