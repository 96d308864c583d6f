using Grpc.Core;

namespace PostPipeline.Embedded.Calls;

/// <summary>A method of a service class with its interceptors around it. One of the four handlers is set.</summary>
internal sealed class BoundMethod<TRequest, TResponse>(string fullName, EmbeddedOptions options) : IBoundMethod
    where TRequest : class
    where TResponse : class
{
    public string FullName => fullName;

    public EmbeddedOptions Options => options;

    public UnaryServerMethod<TRequest, TResponse>? Unary { get; init; }

    public ServerStreamingServerMethod<TRequest, TResponse>? ServerStreaming { get; init; }

    public ClientStreamingServerMethod<TRequest, TResponse>? ClientStreaming { get; init; }

    public DuplexStreamingServerMethod<TRequest, TResponse>? DuplexStreaming { get; init; }
}
