using Grpc.Core;

namespace PostPipeline.Cli.Frame;

/// <summary>Calls that stream how far they are and then their result.</summary>
internal static class ProgressCall
{
    /// <summary>Reads such a stream to its end.</summary>
    /// <typeparam name="TResponse">The message of the stream.</typeparam>
    /// <typeparam name="TResult">The result.</typeparam>
    /// <param name="call">The call.</param>
    /// <param name="progressOf">What a message says of how much is done, and of how much; null where it says nothing.</param>
    /// <param name="resultOf">The result in a message; null where there is none.</param>
    /// <param name="progress">Told the part done, 0 to 1.</param>
    /// <param name="token">Gives up.</param>
    public static async Task<TResult> LastAsync<TResponse, TResult>(
        AsyncServerStreamingCall<TResponse> call, Func<TResponse, (int Done, int Of)?> progressOf, Func<TResponse, TResult?> resultOf, IProgress<double> progress, CancellationToken token)
        where TResult : class
    {
        TResult? result = null;
        using (call)
        {
            await foreach (TResponse part in call.ResponseStream.ReadAllAsync(token).ConfigureAwait(false))
            {
                result = resultOf(part) ?? result;
                if (progressOf(part) is { Of: > 0 } figure)
                {
                    progress.Report((double)figure.Done / figure.Of);
                }
            }
        }

        return result ?? throw new InvalidOperationException("The service ended its stream without a result.");
    }
}
