using PostPipeline.Hosting;

namespace PostPipeline.Rendering.Service;

/// <summary>The rendering host: the one list of its service classes, for its own process and for the embedded suite.</summary>
public static class RenderingHost
{
    /// <summary>What the host is.</summary>
    public static HostDefinition Definition { get; } = new(
        "rendering",
        5103,
        [
        ],
        static (services, settings) =>
        {
        });
}
