using Grpc.Core;
using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Contracts.Timecodes.V1;

namespace PostPipeline.Studies;

/// <summary>The calls that studies make, over any transport.</summary>
/// <param name="Footage">Rates and bursts.</param>
/// <param name="Offload">Days of offload.</param>
/// <param name="RenderTimes">Seconds per frame.</param>
/// <param name="Benchmarks">Benchmark rows.</param>
/// <param name="Farm">The farm.</param>
/// <param name="Conform">The rehearsal.</param>
public sealed record StudyServices(
    FootageService.FootageServiceClient Footage,
    OffloadService.OffloadServiceClient Offload,
    RenderTimeService.RenderTimeServiceClient RenderTimes,
    BenchmarkService.BenchmarkServiceClient Benchmarks,
    FarmService.FarmServiceClient Farm,
    ConformService.ConformServiceClient Conform)
{
    /// <summary>Clients over one invoker for each of the three hosts.</summary>
    /// <param name="timecode">The timecode host.</param>
    /// <param name="footage">The footage host.</param>
    /// <param name="rendering">The rendering host.</param>
    public static StudyServices Over(CallInvoker timecode, CallInvoker footage, CallInvoker rendering) =>
        new(new(footage), new(footage), new(rendering), new(rendering), new(rendering), new(timecode));
}
