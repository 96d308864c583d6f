using PostPipeline.Client;
using PostPipeline.Footage.Service;
using PostPipeline.Services.Tests.Transports;
using Xunit;

namespace PostPipeline.Services.Tests.Footage;

/// <summary>
/// The footage host over one transport, opened anew for every test. What its services promise stands in the contracts
/// derived from this; each runs over the embedded invoker and over the network.
/// </summary>
/// <typeparam name="TTransport">The transport.</typeparam>
public abstract class FootageHostContract<TTransport> : IAsyncLifetime
    where TTransport : ITransportFactory
{
    private ITransport? transport;

    protected SuiteClients Clients => SuiteClients.Over(transport!.Invoker);

    public async Task InitializeAsync() => transport = await TTransport.OpenAsync(new(), FootageHost.Definition);

    public async Task DisposeAsync() => await transport!.DisposeAsync();
}
