using PostPipeline.Hosting;
using PostPipeline.Rendering.Service.Farms;
using PostPipeline.Rendering.Service.RenderTimes;

namespace PostPipeline.Rendering.Service;

/// <summary>The rendering host: the one list of its service classes, for its own process and for the embedded suite.</summary>
public static class RenderingHost
{
    /// <summary>What the host is.</summary>
    public static HostDefinition Definition { get; } = new(
        "rendering",
        5103,
        [
            HostedService.Of<BenchmarkGrpcService>(),
            HostedService.Of<RenderTimeGrpcService>(),
            HostedService.Of<FarmGrpcService>(),
        ],
        static (services, settings) => services.AddRenderTimes(settings.DataFolder));
}
