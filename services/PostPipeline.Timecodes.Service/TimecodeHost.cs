using PostPipeline.Hosting;

namespace PostPipeline.Timecodes.Service;

/// <summary>The timecode host: the one list of its service classes, for its own process and for the embedded suite.</summary>
public static class TimecodeHost
{
    /// <summary>What the host is.</summary>
    public static HostDefinition Definition { get; } = new(
        "timecode",
        5101,
        [
            HostedService.Of<TimecodeGrpcService>(),
            HostedService.Of<ConformGrpcService>(),
        ],
        static (services, settings) =>
        {
        });
}
