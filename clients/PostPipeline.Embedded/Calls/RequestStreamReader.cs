using Grpc.Core;

namespace PostPipeline.Embedded.Calls;

/// <summary>The handler's end of a stream of requests.</summary>
internal sealed class RequestStreamReader<TRequest, TResponse>(EmbeddedCall<TRequest, TResponse> call) : IAsyncStreamReader<TRequest>
    where TRequest : class
    where TResponse : class
{
    public TRequest Current { get; private set; } = null!;

    public async Task<bool> MoveNext(CancellationToken cancellationToken)
    {
        cancellationToken.ThrowIfCancellationRequested();
        call.ServerToken.ThrowIfCancellationRequested();
        using CancellationTokenSource both = CancellationTokenSource.CreateLinkedTokenSource(cancellationToken, call.ServerToken);
        if (!await call.Requests.Reader.WaitToReadAsync(both.Token).ConfigureAwait(false) || !call.Requests.Reader.TryRead(out TRequest? message))
        {
            // A caller that gave up closes the stream too; that is not the end of the requests.
            call.ServerToken.ThrowIfCancellationRequested();
            return call.Ended is { Local: true } ? throw new OperationCanceledException("The caller gave up the call.") : false;
        }

        if (!Messages.Fits(message, call.Options.Settings.Limits.MaximumMessageBytes))
        {
            throw Messages.TooLargeToReceive;
        }

        Current = message;
        return true;
    }
}
