using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.DependencyInjection.Extensions;
using PostPipeline.Rendering.Service.Storage;
using PostPipeline.RenderTimes;

namespace PostPipeline.Rendering.Service.RenderTimes;

/// <summary>What the benchmark and render-time services need from their host, embedded or not.</summary>
public static class RenderTimeRegistration
{
    /// <summary>Registers the store, opened when first asked for, and the training queue.</summary>
    /// <param name="services">The host's services.</param>
    /// <param name="dataFolder">The data folder; null for the default (see <see cref="DataFolder"/>).</param>
    public static IServiceCollection AddRenderTimes(this IServiceCollection services, string? dataFolder = null)
    {
        services.TryAddSingleton<IBenchmarkStore>(_ => new FolderBenchmarkStore(DataFolder.Resolve(dataFolder)));
        services.TryAddSingleton(_ => new TrainingQueue());
        services.TryAddSingleton<BenchmarkGrpcService>();
        services.TryAddSingleton<RenderTimeGrpcService>();
        return services;
    }
}
