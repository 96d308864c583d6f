using PostPipeline.Contracts;

namespace PostPipeline.Hosting;

/// <summary>What a host takes on at once. The same bounds hold embedded and over the network.</summary>
public sealed record HostLimits
{
    /// <summary>The largest message in bytes, either way.</summary>
    public int MaximumMessageBytes { get; init; } = Wire.MaximumMessageBytes;

    /// <summary>Calls that are worked on at once; at least 8, else four a processor.</summary>
    public int MaximumRunningCalls { get; init; } = Math.Max(8, 4 * Environment.ProcessorCount);

    /// <summary>Calls that wait for their turn; the next one is refused with a retry delay.</summary>
    public int MaximumWaitingCalls { get; init; } = 256;

    /// <summary>The delay that a refused caller is told.</summary>
    public TimeSpan RetryDelay { get; init; } = TimeSpan.FromMilliseconds(500);

    /// <summary>The longest that any call may take, whatever its deadline.</summary>
    public TimeSpan MaximumCallTime { get; init; } = TimeSpan.FromMinutes(15);
}
