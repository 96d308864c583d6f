using Grpc.Core;
using PostPipeline.Embedded;
using PostPipeline.Hosting;

namespace PostPipeline.Services.Tests.Transports;

/// <summary>The embedded invoker, messages cloned.</summary>
public sealed class EmbeddedTransport(EmbeddedCallInvoker invoker) : ITransport, ITransportFactory
{
    public CallInvoker Invoker => invoker;

    public static Task<ITransport> OpenAsync(HostSettings settings, params HostDefinition[] hosts) =>
        Task.FromResult<ITransport>(new EmbeddedTransport(new(hosts, new() { Settings = settings })));

    public ValueTask DisposeAsync() => invoker.DisposeAsync();
}

/// <summary>The embedded invoker, messages sent through bytes.</summary>
public sealed class MarshallingTransport(EmbeddedCallInvoker invoker) : ITransport, ITransportFactory
{
    public CallInvoker Invoker => invoker;

    public static Task<ITransport> OpenAsync(HostSettings settings, params HostDefinition[] hosts) =>
        Task.FromResult<ITransport>(new MarshallingTransport(new(hosts, new() { Settings = settings, Copy = MessageCopy.Marshal })));

    public ValueTask DisposeAsync() => invoker.DisposeAsync();
}
