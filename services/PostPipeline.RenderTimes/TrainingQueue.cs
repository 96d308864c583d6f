namespace PostPipeline.RenderTimes;

/// <summary>
/// One fit at a time, and a bounded number that wait. A fit that has begun cannot be stopped inside the learning
/// library: where its caller gives up it ends in the background at the next step, and its result is dropped.
/// </summary>
/// <param name="waiting">How many may wait beside the one that runs.</param>
public sealed class TrainingQueue(int waiting = 4) : IDisposable
{
    private readonly SemaphoreSlim turn = new(1, 1);
    private int present;

    /// <summary>Runs a fit when its turn comes.</summary>
    /// <typeparam name="T">What the fit makes.</typeparam>
    /// <param name="fit">The fit.</param>
    /// <param name="cancellation">Gives up: the caller is answered at once.</param>
    /// <exception cref="TrainingQueueFullException">Too many wait already.</exception>
    /// <exception cref="OperationCanceledException">The caller gave up.</exception>
    public async Task<T> RunAsync<T>(Func<CancellationToken, T> fit, CancellationToken cancellation)
    {
        if (Interlocked.Increment(ref present) > waiting + 1)
        {
            Interlocked.Decrement(ref present);
            throw new TrainingQueueFullException(waiting);
        }

        Task<T> work = RunInTurn(fit, cancellation);
        return await work.WaitAsync(cancellation).ConfigureAwait(false);
    }

    /// <inheritdoc/>
    public void Dispose() => turn.Dispose();

    private async Task<T> RunInTurn<T>(Func<CancellationToken, T> fit, CancellationToken cancellation)
    {
        try
        {
            await turn.WaitAsync(cancellation).ConfigureAwait(false);
            try
            {
                return await Task.Run(() => fit(cancellation), cancellation).ConfigureAwait(false);
            }
            finally
            {
                turn.Release();
            }
        }
        finally
        {
            Interlocked.Decrement(ref present);
        }
    }
}
