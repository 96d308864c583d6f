using Grpc.Core;

namespace PostPipeline.Client.Calls;

/// <summary>A stream of responses whose errors are shown as those of any call.</summary>
internal sealed class CallStreamReader<T>(IAsyncStreamReader<T> inner, CallErrors errors) : IAsyncStreamReader<T>
{
    public T Current => inner.Current;

    public Task<bool> MoveNext(CancellationToken cancellationToken) => errors.Shown(inner.MoveNext(cancellationToken));
}
