using Grpc.Core;
using Grpc.Core.Interceptors;

namespace PostPipeline.Hosting.Interceptors;

/// <summary>An interceptor that does the same around all four kinds of call.</summary>
public abstract class AroundInterceptor : Interceptor
{
    /// <inheritdoc/>
    public sealed override Task<TResponse> UnaryServerHandler<TRequest, TResponse>(
        TRequest request, ServerCallContext context, UnaryServerMethod<TRequest, TResponse> continuation) =>
        Around(context, inner => continuation(request, inner));

    /// <inheritdoc/>
    public sealed override Task<TResponse> ClientStreamingServerHandler<TRequest, TResponse>(
        IAsyncStreamReader<TRequest> requestStream, ServerCallContext context, ClientStreamingServerMethod<TRequest, TResponse> continuation) =>
        Around(context, inner => continuation(requestStream, inner));

    /// <inheritdoc/>
    public sealed override Task ServerStreamingServerHandler<TRequest, TResponse>(
        TRequest request, IServerStreamWriter<TResponse> responseStream, ServerCallContext context, ServerStreamingServerMethod<TRequest, TResponse> continuation) =>
        Around(context, inner => Completed(continuation(request, responseStream, inner)));

    /// <inheritdoc/>
    public sealed override Task DuplexStreamingServerHandler<TRequest, TResponse>(
        IAsyncStreamReader<TRequest> requestStream,
        IServerStreamWriter<TResponse> responseStream,
        ServerCallContext context,
        DuplexStreamingServerMethod<TRequest, TResponse> continuation) =>
        Around(context, inner => Completed(continuation(requestStream, responseStream, inner)));

    /// <summary>Whether the call goes to one of our own services, not to health or reflection.</summary>
    /// <param name="context">The call.</param>
    protected static bool IsOurs(ServerCallContext context) => context.Method.StartsWith("/postpipeline.", StringComparison.Ordinal);

    /// <summary>Does its work around a call.</summary>
    /// <typeparam name="T">What the call answers; nothing of interest where it streams.</typeparam>
    /// <param name="context">The call.</param>
    /// <param name="next">The rest of the chain; takes the context that it shall see.</param>
    protected abstract Task<T> Around<T>(ServerCallContext context, Func<ServerCallContext, Task<T>> next);

    private static async Task<bool> Completed(Task call)
    {
        await call.ConfigureAwait(false);
        return true;
    }
}
