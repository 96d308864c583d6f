using Grpc.Core;
using PostPipeline.Hosting;
using PostPipeline.Services.Tests.Probes.V1;
using Xunit;
using static PostPipeline.Services.Tests.Transports.ProbeCalls;

namespace PostPipeline.Services.Tests.Transports.Contracts;

/// <summary>
/// The probe over one transport, opened anew for every test. What callers may rely on, whichever way they reach a
/// service, stands in the contracts derived from this, one idea each; every test of them runs over every transport.
/// Where the gRPC specification leaves a choice, the network transport (grpc-dotnet over Kestrel) is the model.
/// Sources: gRPC "Status codes and their use in gRPC", "Deadlines", "Cancellation"; google.rpc error details.
/// </summary>
/// <typeparam name="TTransport">The transport.</typeparam>
public abstract class TransportContract<TTransport> : IAsyncLifetime
    where TTransport : ITransportFactory
{
    private ITransport transport = null!;

    protected ProbeLog Log { get; } = new();

    protected ProbeService.ProbeServiceClient Client { get; private set; } = null!;

    protected CallInvoker Invoker => transport.Invoker;

    public async Task InitializeAsync()
    {
        HostSettings settings = new() { Limits = new() { MaximumMessageBytes = LimitBytes, MaximumCallTime = TimeSpan.FromSeconds(60) } };
        transport = await TTransport.OpenAsync(settings, Probe.Host(Log));
        Client = new(transport.Invoker);
    }

    public async Task DisposeAsync() => await transport.DisposeAsync();

    protected async Task<RpcException> Fails(ProbeRequest request) => await Assert.ThrowsAsync<RpcException>(() => Client.AskAsync(request).ResponseAsync);
}
