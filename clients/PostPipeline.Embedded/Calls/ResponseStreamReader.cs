using Grpc.Core;

namespace PostPipeline.Embedded.Calls;

/// <summary>The caller's end of a stream of responses.</summary>
internal sealed class ResponseStreamReader<TRequest, TResponse>(EmbeddedCall<TRequest, TResponse> call) : IAsyncStreamReader<TResponse>
    where TRequest : class
    where TResponse : class
{
    public TResponse Current { get; private set; } = null!;

    public async Task<bool> MoveNext(CancellationToken cancellationToken)
    {
        using CancellationTokenRegistration giveUp = cancellationToken.UnsafeRegister(static state => ((EmbeddedCall<TRequest, TResponse>)state!).Dispose(), call);
        ThrowIfEndedHere();
        bool more = await call.Responses.Reader.WaitToReadAsync(CancellationToken.None).ConfigureAwait(false);
        ThrowIfEndedHere();
        if (!more || !call.Responses.Reader.TryRead(out TResponse? message))
        {
            Current = null!;
            return false;
        }

        Current = message;
        return true;
    }

    // After the caller's side ended the call, messages on the way are dropped.
    private void ThrowIfEndedHere()
    {
        if (call.Ended is { Local: true } ended)
        {
            throw ended.ToException();
        }
    }
}
