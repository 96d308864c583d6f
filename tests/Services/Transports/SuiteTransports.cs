using PostPipeline.Embedded;
using Xunit;

namespace PostPipeline.Services.Tests.Transports;

/// <summary>The real hosts over every transport, each with a data folder of its own.</summary>
public sealed class SuiteTransports : IAsyncLifetime
{
    private readonly List<string> folders = [];
    private readonly List<ITransport> transports = [];

    public IReadOnlyList<ITransport> All => transports;

    public async Task InitializeAsync()
    {
        await OpenAsync<EmbeddedTransport>();
        await OpenAsync<MarshallingTransport>();
        await OpenAsync<KestrelTransport>();
    }

    public async Task DisposeAsync()
    {
        foreach (ITransport transport in transports)
        {
            await transport.DisposeAsync();
        }

        folders.ForEach(folder => Directory.Delete(folder, recursive: true));
    }

    private async Task OpenAsync<T>()
        where T : ITransportFactory
    {
        folders.Add(Directory.CreateTempSubdirectory("postpipeline-test-").FullName);
        transports.Add(await T.OpenAsync(new() { DataFolder = folders[^1] }, [.. EmbeddedSuite.Hosts]));
    }
}
