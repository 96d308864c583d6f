using System.Collections.Immutable;
using PostPipeline.Client;
using PostPipeline.Footage.Service;
using PostPipeline.Hosting;
using PostPipeline.Rendering.Service;
using PostPipeline.Timecodes.Service;

namespace PostPipeline.Embedded;

/// <summary>The three services inside the caller's process: no server, no port, no configuration.</summary>
public sealed class EmbeddedSuite : IAsyncDisposable
{
    private readonly EmbeddedCallInvoker invoker;

    /// <summary>Starts the services.</summary>
    /// <param name="options">How they run; the defaults where null.</param>
    public EmbeddedSuite(EmbeddedOptions? options = null)
    {
        invoker = new(Hosts, options);
        Clients = SuiteClients.Over(invoker);
    }

    /// <summary>The three hosts.</summary>
    public static ImmutableArray<HostDefinition> Hosts { get; } = [TimecodeHost.Definition, FootageHost.Definition, RenderingHost.Definition];

    /// <summary>Typed clients of all services.</summary>
    public SuiteClients Clients { get; }

    /// <summary>Starts the services with a data folder.</summary>
    /// <param name="dataFolder">The data folder; null for the usual places.</param>
    public static EmbeddedSuite InFolder(string? dataFolder) => new(new() { Settings = new() { DataFolder = dataFolder } });

    /// <summary>Stops the services.</summary>
    public ValueTask DisposeAsync() => invoker.DisposeAsync();
}
