using System.Collections.Immutable;
using Microsoft.Extensions.DependencyInjection;

namespace PostPipeline.Hosting;

/// <summary>What a host is: its name, its usual port, its service classes and what they need.</summary>
/// <param name="Name">One word, for example <c>timecode</c>.</param>
/// <param name="DefaultPort">The port on loopback where none is named.</param>
/// <param name="Services">The service classes.</param>
/// <param name="Register">Adds what the service classes need; called once at start.</param>
public sealed record HostDefinition(
    string Name,
    int DefaultPort,
    ImmutableArray<HostedService> Services,
    Action<IServiceCollection, HostSettings> Register);
