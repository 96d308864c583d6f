using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.DependencyInjection.Extensions;
using PostPipeline.Hosting.Failures;
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
        services.TryAddSingleton<IBenchmarkStore>(_ => Open(dataFolder));
        services.TryAddSingleton(_ => new TrainingQueue());
        services.TryAddSingleton<BenchmarkGrpcService>();
        services.TryAddSingleton<RenderTimeGrpcService>();
        return services;
    }

    // A folder that this version cannot use is something for the caller to know, not a fault of the service.
    private static FolderBenchmarkStore Open(string? dataFolder)
    {
        try
        {
            return BenchmarkGrpcService.WhenFree(() => new FolderBenchmarkStore(DataFolder.Resolve(dataFolder)));
        }
        catch (InvalidDataException unusable)
        {
            throw ServiceFailureException.NotReady(unusable.Message);
        }
    }
}
