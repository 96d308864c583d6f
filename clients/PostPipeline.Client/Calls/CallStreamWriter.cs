using Grpc.Core;

namespace PostPipeline.Client.Calls;

/// <summary>A stream of requests whose errors are shown as those of any call.</summary>
internal sealed class CallStreamWriter<T>(IClientStreamWriter<T> inner, CallErrors errors) : IClientStreamWriter<T>
{
    public WriteOptions? WriteOptions
    {
        get => inner.WriteOptions;
        set => inner.WriteOptions = value;
    }

    public Task WriteAsync(T message) => errors.Shown(inner.WriteAsync(message));

    public Task WriteAsync(T message, CancellationToken cancellationToken) => errors.Shown(inner.WriteAsync(message, cancellationToken));

    public Task CompleteAsync() => errors.Shown(inner.CompleteAsync());
}
