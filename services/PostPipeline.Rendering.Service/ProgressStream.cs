using System.Threading.Channels;
using Grpc.Core;

namespace PostPipeline.Rendering.Service;

/// <summary>
/// Runs heavy work off the call's thread and streams how far it is: the newest figure only, so that a slow reader delays
/// nobody.
/// </summary>
internal static class ProgressStream
{
    /// <summary>Runs the work, writing progress as it comes.</summary>
    /// <typeparam name="TResponse">The message of the stream.</typeparam>
    /// <typeparam name="TResult">What the work gives.</typeparam>
    /// <param name="work">The work; is told where to report and when to stop.</param>
    /// <param name="wrap">Makes a message of what is done, and of how much.</param>
    /// <param name="stream">Where messages go.</param>
    /// <param name="token">The call's token.</param>
    public static Task<TResult> Run<TResponse, TResult>(
        Func<Action<int, int>, CancellationToken, TResult> work,
        Func<int, int, TResponse> wrap,
        IServerStreamWriter<TResponse> stream,
        CancellationToken token) =>
        RunAsync((report, ended) => Task.Run(() => work(report, ended), CancellationToken.None), wrap, stream, token);

    /// <summary>Runs work that waits for its turn or for others, writing progress as it comes.</summary>
    /// <typeparam name="TResponse">The message of the stream.</typeparam>
    /// <typeparam name="TResult">What the work gives.</typeparam>
    /// <param name="work">The work; is told where to report and when to stop.</param>
    /// <param name="wrap">Makes a message of what is done, and of how much.</param>
    /// <param name="stream">Where messages go.</param>
    /// <param name="token">The call's token.</param>
    public static async Task<TResult> RunAsync<TResponse, TResult>(
        Func<Action<int, int>, CancellationToken, Task<TResult>> work,
        Func<int, int, TResponse> wrap,
        IServerStreamWriter<TResponse> stream,
        CancellationToken token)
    {
        Channel<(int Done, int Of)> figures = Channel.CreateBounded<(int, int)>(
            new BoundedChannelOptions(1) { FullMode = BoundedChannelFullMode.DropOldest });
        Lock gate = new();
        int furthest = 0;

        // Threads report in any order; how far it is never goes back.
        void Report(int done, int of)
        {
            lock (gate)
            {
                if (done > furthest)
                {
                    furthest = done;
                    figures.Writer.TryWrite((done, of));
                }
            }
        }

        async Task<TResult> WorkAsync(CancellationToken ending)
        {
            try
            {
                return await work(Report, ending);
            }
            finally
            {
                figures.Writer.TryComplete();
            }
        }

        using CancellationTokenSource ended = CancellationTokenSource.CreateLinkedTokenSource(token);
        Task<TResult> running = WorkAsync(ended.Token);
        try
        {
            await foreach ((int done, int of) in figures.Reader.ReadAllAsync(token))
            {
                await stream.WriteAsync(wrap(done, of), token);
            }
        }
        catch
        {
            // The reader has gone: stop the work, and do not leave it running behind the call.
            await ended.CancelAsync();
            await running.ContinueWith(_ => { }, CancellationToken.None, TaskContinuationOptions.None, TaskScheduler.Default);
            throw;
        }

        return await running;
    }
}
