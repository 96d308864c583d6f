namespace PostPipeline.Services.Tests.Transports;

/// <summary>What the probe saw, for the test to look at.</summary>
public sealed class ProbeLog
{
    private readonly TaskCompletionSource started = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private readonly TaskCompletionSource cancelled = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private int written;
    private int scopes;

    /// <summary>A handler has begun.</summary>
    public Task Started => started.Task;

    /// <summary>A handler saw its token cancelled.</summary>
    public Task Cancelled => cancelled.Task;

    /// <summary>Messages that a handler has written.</summary>
    public int Written => Volatile.Read(ref written);

    /// <summary>Scopes made and not yet disposed.</summary>
    public int OpenScopes => Volatile.Read(ref scopes);

    public void Start() => started.TrySetResult();

    public void SeeCancelled() => cancelled.TrySetResult();

    public void CountWritten() => Interlocked.Increment(ref written);

    public void OpenScope() => Interlocked.Increment(ref scopes);

    public void CloseScope() => Interlocked.Decrement(ref scopes);
}
