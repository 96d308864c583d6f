using Grpc.Core;
using PostPipeline.Hosting;

namespace PostPipeline.Services.Tests.Transports;

/// <summary>A way from a client to the services.</summary>
public interface ITransport : IAsyncDisposable
{
    /// <summary>Calls the hosts.</summary>
    CallInvoker Invoker { get; }
}

/// <summary>Makes a transport to hosts.</summary>
public interface ITransportFactory
{
    /// <summary>Starts hosts and connects to them.</summary>
    static abstract Task<ITransport> OpenAsync(HostSettings settings, params HostDefinition[] hosts);
}
