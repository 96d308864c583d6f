using System.Collections.Immutable;
using Grpc.Core.Interceptors;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Logging.Abstractions;
using PostPipeline.Embedded.Calls;
using PostPipeline.Hosting;

namespace PostPipeline.Embedded;

/// <summary>One host inside the caller's process: its own container, interceptors and gate, but no socket.</summary>
internal sealed class EmbeddedHost : IAsyncDisposable
{
    private readonly ServiceProvider services;

    public EmbeddedHost(HostDefinition host, EmbeddedOptions options)
    {
        ServiceCollection collection = new();
        collection.AddSingleton(options.Log ?? NullLoggerFactory.Instance);
        collection.AddSingleton(typeof(ILogger<>), typeof(Logger<>));
        collection.AddPostPipelineCore(host, options.Settings);
        services = collection.BuildServiceProvider(new ServiceProviderOptions { ValidateScopes = true, ValidateOnBuild = true });

        ImmutableArray<Interceptor> interceptors = HostInterceptors.From(services);
        MethodTable methods = new(services, interceptors, options);
        foreach (HostedService service in host.Services)
        {
            service.Accept(methods);
        }

        Methods = methods.Bound;
    }

    /// <summary>The host's methods by full name.</summary>
    public IReadOnlyDictionary<string, IBoundMethod> Methods { get; }

    public ValueTask DisposeAsync() => services.DisposeAsync();
}
