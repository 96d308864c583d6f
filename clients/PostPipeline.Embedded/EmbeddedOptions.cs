using Microsoft.Extensions.Logging;
using PostPipeline.Hosting;

namespace PostPipeline.Embedded;

/// <summary>How services run inside the caller's process.</summary>
public sealed record EmbeddedOptions
{
    /// <summary>What each host is started with.</summary>
    public HostSettings Settings { get; init; } = new();

    /// <summary>How messages cross.</summary>
    public MessageCopy Copy { get; init; } = MessageCopy.Clone;

    /// <summary>Messages that a stream holds before its writer waits for its reader. 1 or more.</summary>
    public int StreamCapacity { get; init; } = 16;

    /// <summary>Where the services log; nowhere by default.</summary>
    public ILoggerFactory? Log { get; init; }
}
