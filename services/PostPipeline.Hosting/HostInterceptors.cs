using System.Collections.Immutable;
using Grpc.Core.Interceptors;
using Microsoft.Extensions.DependencyInjection;
using PostPipeline.Hosting.Interceptors;

namespace PostPipeline.Hosting;

/// <summary>The interceptors around every call, outermost first: one list for the network hosts and for the embedded suite.</summary>
public static class HostInterceptors
{
    /// <summary>The classes in order.</summary>
    public static ImmutableArray<Type> Types { get; } =
        [typeof(TelemetryInterceptor), typeof(ErrorInterceptor), typeof(VersionInterceptor), typeof(AdmissionInterceptor)];

    /// <summary>Makes the interceptors of one host.</summary>
    /// <param name="services">The host's services.</param>
    public static ImmutableArray<Interceptor> From(IServiceProvider services) =>
        [.. Types.Select(type => (Interceptor)services.GetRequiredService(type))];
}
