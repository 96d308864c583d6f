using Grpc.AspNetCore.Server;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.DependencyInjection.Extensions;
using Microsoft.Extensions.Diagnostics.HealthChecks;
using OpenTelemetry.Metrics;
using OpenTelemetry.Resources;
using OpenTelemetry.Trace;
using PostPipeline.Contracts;
using PostPipeline.Hosting.Interceptors;

namespace PostPipeline.Hosting;

/// <summary>Registers what hosts share.</summary>
public static class HostServices
{
    /// <summary>What every host needs, embedded or not: settings, limits, interceptors, the host's own parts.</summary>
    /// <param name="services">The host's services.</param>
    /// <param name="host">The host.</param>
    /// <param name="settings">What it is started with.</param>
    public static IServiceCollection AddPostPipelineCore(this IServiceCollection services, HostDefinition host, HostSettings settings)
    {
        services.AddSingleton(settings);
        services.AddSingleton(settings.Limits);
        services.AddSingleton<AdmissionGate>();
        services.TryAddSingleton(TimeProvider.System);
        foreach (Type type in HostInterceptors.Types)
        {
            services.AddSingleton(type);
        }

        host.Register(services, settings);
        return services;
    }

    /// <summary>What a network host needs beside: gRPC with limits and interceptors, health, reflection, telemetry.</summary>
    /// <param name="services">The host's services.</param>
    /// <param name="host">The host.</param>
    /// <param name="settings">What it is started with.</param>
    public static IServiceCollection AddPostPipelineHost(this IServiceCollection services, HostDefinition host, HostSettings settings)
    {
        services.AddPostPipelineCore(host, settings);
        services.AddGrpc(options =>
        {
            options.MaxReceiveMessageSize = settings.Limits.MaximumMessageBytes;
            options.MaxSendMessageSize = settings.Limits.MaximumMessageBytes;
            options.EnableDetailedErrors = false;
            foreach (Type type in HostInterceptors.Types)
            {
                options.Interceptors.Add(type);
            }
        });
        services.AddGrpcReflection();
        services.AddGrpcHealthChecks(options =>
        {
            foreach (HostedService service in host.Services)
            {
                options.Services.Map(service.FullName, _ => true);
            }
        }).AddCheck("answers", () => HealthCheckResult.Healthy());
        AddTelemetry(services, host);
        return services;
    }

    /// <summary>Maps the host's service classes, health and reflection.</summary>
    /// <param name="endpoints">The host's endpoints.</param>
    /// <param name="host">The host.</param>
    public static void MapPostPipelineHost(this IEndpointRouteBuilder endpoints, HostDefinition host)
    {
        foreach (HostedService service in host.Services)
        {
            service.Map(endpoints);
        }

        endpoints.MapGrpcHealthChecksService();
        endpoints.MapGrpcReflectionService();
    }

    // Nothing leaves the process unless the standard variable names a collector.
    private static void AddTelemetry(IServiceCollection services, HostDefinition host)
    {
        if (string.IsNullOrEmpty(Environment.GetEnvironmentVariable("OTEL_EXPORTER_OTLP_ENDPOINT")))
        {
            return;
        }

        services.AddOpenTelemetry()
            .ConfigureResource(resource => resource.AddService($"postpipeline-{host.Name}", serviceVersion: Wire.EngineVersion))
            .WithTracing(tracing => tracing.AddAspNetCoreInstrumentation().AddSource(TelemetryInterceptor.SourceName).AddOtlpExporter())
            .WithMetrics(metrics => metrics.AddAspNetCoreInstrumentation().AddRuntimeInstrumentation().AddMeter(TelemetryInterceptor.SourceName).AddOtlpExporter());
    }
}
