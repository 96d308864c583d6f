using System.Threading.Channels;
using Grpc.Core;
using PostPipeline.Contracts.Rendering.V1;

namespace PostPipeline.Rendering.Service.Farms;

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
    /// <param name="wrap">Makes a message of a figure.</param>
    /// <param name="stream">Where messages go.</param>
    /// <param name="token">The call's token.</param>
    public static async Task<TResult> Run<TResponse, TResult>(
        Func<Action<int, int>, CancellationToken, TResult> work,
        Func<FarmProgress, TResponse> wrap,
        IServerStreamWriter<TResponse> stream,
        CancellationToken token)
    {
        Channel<FarmProgress> figures = Channel.CreateBounded<FarmProgress>(
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
                    figures.Writer.TryWrite(new() { Done = done, Of = of });
                }
            }
        }

        using CancellationTokenSource ended = CancellationTokenSource.CreateLinkedTokenSource(token);
        Task<TResult> running = Task.Run(
            () =>
            {
                try
                {
                    return work(Report, ended.Token);
                }
                finally
                {
                    figures.Writer.TryComplete();
                }
            },
            CancellationToken.None);
        try
        {
            await foreach (FarmProgress figure in figures.Reader.ReadAllAsync(token))
            {
                await stream.WriteAsync(wrap(figure), token);
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
