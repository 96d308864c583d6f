using System.Collections.Frozen;
using Grpc.Core;
using PostPipeline.Embedded.Calls;
using PostPipeline.Hosting;

namespace PostPipeline.Embedded;

/// <summary>
/// Calls the services' own classes inside this process, without a socket: the generated clients do not know the
/// difference. Deadlines, cancellation, metadata, statuses, size limits and back-pressure are those of the network.
/// </summary>
/// <remarks>
/// What the network does and this does not: messages of one stream are not cut into frames, and user-agent and other
/// transport headers are absent.
/// </remarks>
public sealed class EmbeddedCallInvoker : CallInvoker, IAsyncDisposable
{
    private readonly EmbeddedHost[] hosts;
    private readonly FrozenDictionary<string, IBoundMethod> methods;

    /// <summary>Starts hosts inside this process.</summary>
    /// <param name="definitions">The hosts.</param>
    /// <param name="options">How they run; the defaults where null.</param>
    public EmbeddedCallInvoker(IEnumerable<HostDefinition> definitions, EmbeddedOptions? options = null)
    {
        options ??= new();
        hosts = [.. definitions.Select(definition => new EmbeddedHost(definition, options))];
        methods = hosts.SelectMany(host => host.Methods).ToFrozenDictionary(StringComparer.Ordinal);
    }

    /// <inheritdoc/>
    public override TResponse BlockingUnaryCall<TRequest, TResponse>(Method<TRequest, TResponse> method, string? host, CallOptions options, TRequest request)
    {
        using AsyncUnaryCall<TResponse> call = AsyncUnaryCall(method, host, options, request);
        return call.ResponseAsync.GetAwaiter().GetResult();
    }

    /// <inheritdoc/>
    public override AsyncUnaryCall<TResponse> AsyncUnaryCall<TRequest, TResponse>(Method<TRequest, TResponse> method, string? host, CallOptions options, TRequest request)
    {
        EmbeddedCall<TRequest, TResponse> call = Start(method, options);
        call.StartUnary(request);
        return new(call.Response, call.Headers, call.GetStatus, call.GetTrailers, call.Dispose);
    }

    /// <inheritdoc/>
    public override AsyncServerStreamingCall<TResponse> AsyncServerStreamingCall<TRequest, TResponse>(Method<TRequest, TResponse> method, string? host, CallOptions options, TRequest request)
    {
        EmbeddedCall<TRequest, TResponse> call = Start(method, options);
        call.StartServerStreaming(request);
        return new(call.ResponseReader, call.Headers, call.GetStatus, call.GetTrailers, call.Dispose);
    }

    /// <inheritdoc/>
    public override AsyncClientStreamingCall<TRequest, TResponse> AsyncClientStreamingCall<TRequest, TResponse>(Method<TRequest, TResponse> method, string? host, CallOptions options)
    {
        EmbeddedCall<TRequest, TResponse> call = Start(method, options);
        call.StartClientStreaming();
        return new(call.RequestWriter, call.Response, call.Headers, call.GetStatus, call.GetTrailers, call.Dispose);
    }

    /// <inheritdoc/>
    public override AsyncDuplexStreamingCall<TRequest, TResponse> AsyncDuplexStreamingCall<TRequest, TResponse>(Method<TRequest, TResponse> method, string? host, CallOptions options)
    {
        EmbeddedCall<TRequest, TResponse> call = Start(method, options);
        call.StartDuplexStreaming();
        return new(call.RequestWriter, call.ResponseReader, call.Headers, call.GetStatus, call.GetTrailers, call.Dispose);
    }

    /// <summary>Stops the hosts.</summary>
    public async ValueTask DisposeAsync()
    {
        foreach (EmbeddedHost host in hosts)
        {
            await host.DisposeAsync().ConfigureAwait(false);
        }
    }

    private EmbeddedCall<TRequest, TResponse> Start<TRequest, TResponse>(Method<TRequest, TResponse> method, CallOptions options)
        where TRequest : class
        where TResponse : class =>
        new(method, (BoundMethod<TRequest, TResponse>?)methods.GetValueOrDefault(method.FullName), options);
}
