using PostPipeline.Hosting.Failures;

namespace PostPipeline.Hosting.Interceptors;

/// <summary>
/// Lets a bounded number of calls run and a bounded number wait; the next one is refused at once with a delay. A
/// service that answers late and then all at once helps nobody.
/// </summary>
/// <param name="limits">The bounds.</param>
public sealed class AdmissionGate(HostLimits limits) : IDisposable
{
    private readonly SemaphoreSlim places = new(limits.MaximumRunningCalls, limits.MaximumRunningCalls);
    private int waiting;

    /// <summary>Takes a place, or waits for one.</summary>
    /// <param name="cancellationToken">Gives up waiting.</param>
    /// <exception cref="ServiceFailureException">All places and all seats of the queue are taken.</exception>
    public ValueTask EnterAsync(CancellationToken cancellationToken) =>
        places.Wait(0, CancellationToken.None) ? ValueTask.CompletedTask : QueueAsync(cancellationToken);

    /// <summary>Gives the place back.</summary>
    public void Leave() => places.Release();

    /// <inheritdoc/>
    public void Dispose() => places.Dispose();

    private async ValueTask QueueAsync(CancellationToken cancellationToken)
    {
        try
        {
            if (Interlocked.Increment(ref waiting) > limits.MaximumWaitingCalls)
            {
                throw ServiceFailureException.Overloaded(
                    $"{limits.MaximumRunningCalls} calls are running and {limits.MaximumWaitingCalls} are waiting; try again in {limits.RetryDelay.TotalMilliseconds:0} ms",
                    limits.RetryDelay);
            }

            await places.WaitAsync(cancellationToken).ConfigureAwait(false);
        }
        finally
        {
            Interlocked.Decrement(ref waiting);
        }
    }
}
