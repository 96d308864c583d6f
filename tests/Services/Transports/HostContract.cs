using PostPipeline.Client;
using PostPipeline.Hosting;
using Xunit;

namespace PostPipeline.Services.Tests.Transports;

/// <summary>A host over one transport, opened anew for every test. What its services promise stands in the contracts derived from this.</summary>
/// <typeparam name="TTransport">The transport.</typeparam>
public abstract class HostContract<TTransport>(HostDefinition host) : IAsyncLifetime
    where TTransport : ITransportFactory
{
    private ITransport transport = null!;

    protected SuiteClients Clients { get; private set; } = null!;

    public async Task InitializeAsync()
    {
        transport = await TTransport.OpenAsync(new(), host);
        Clients = SuiteClients.Over(transport.Invoker);
    }

    public async Task DisposeAsync() => await transport.DisposeAsync();
}
