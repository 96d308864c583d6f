using PostPipeline.Footage.Service.Footage;
using PostPipeline.Footage.Service.Offload;
using PostPipeline.Footage.Service.Storage;
using PostPipeline.Hosting;

namespace PostPipeline.Footage.Service;

/// <summary>The footage host: the one list of its service classes, for its own process and for the embedded suite.</summary>
public static class FootageHost
{
    /// <summary>What the host is.</summary>
    public static HostDefinition Definition { get; } = new(
        "footage",
        5102,
        [
            HostedService.Of<FootageGrpcService>(),
            HostedService.Of<OffloadGrpcService>(),
            HostedService.Of<StorageGrpcService>(),
        ],
        static (services, settings) =>
        {
        });
}
