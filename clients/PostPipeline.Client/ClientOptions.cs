namespace PostPipeline.Client;

/// <summary>How services are called.</summary>
public sealed record ClientOptions
{
    /// <summary>How long a call may take where the caller names no deadline.</summary>
    public TimeSpan Deadline { get; init; } = TimeSpan.FromMinutes(10);

    /// <summary>
    /// How often a unary call is tried where its service is not reachable or has too much to do. 1 or more. Unary calls
    /// of the suite may be repeated: they compute, or they name what they make by its content. Streams are not repeated.
    /// </summary>
    public int Attempts { get; init; } = 4;

    /// <summary>The pause before the second attempt; it doubles each time. A service that names its own delay is obeyed.</summary>
    public TimeSpan FirstPause { get; init; } = TimeSpan.FromMilliseconds(100);
}
