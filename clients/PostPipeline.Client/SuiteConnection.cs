using Grpc.Core;
using Grpc.Health.V1;
using Grpc.Net.Client;
using PostPipeline.Contracts;
using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Contracts.Timecodes.V1;

namespace PostPipeline.Client;

/// <summary>
/// Channels to services in other processes. Addresses may be given in any order: each is asked, by the standard gRPC
/// health protocol, which services it serves.
/// </summary>
public sealed class SuiteConnection : IAsyncDisposable
{
    private static readonly (string Name, string Service)[] Hosts =
    [
        ("timecode", TimecodeService.Descriptor.FullName),
        ("footage", FootageService.Descriptor.FullName),
        ("rendering", FarmService.Descriptor.FullName),
    ];

    private readonly List<GrpcChannel> channels;

    private SuiteConnection(List<GrpcChannel> channels, SuiteClients clients) => (this.channels, Clients) = (channels, clients);

    /// <summary>Typed clients of all services.</summary>
    public SuiteClients Clients { get; }

    /// <summary>Connects to the three hosts.</summary>
    /// <param name="addresses">Such as <c>http://127.0.0.1:5101</c>, in any order; one may serve several hosts.</param>
    /// <param name="options">How to call; the defaults where null.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <exception cref="ServiceAddressException">An address is not one or does not answer, or a host is served by none of the addresses, or by two.</exception>
    public static async Task<SuiteConnection> OpenAsync(IReadOnlyList<string> addresses, ClientOptions? options = null, CancellationToken cancellationToken = default)
    {
        List<GrpcChannel> channels = [.. addresses.Select(Channel)];
        try
        {
            Dictionary<string, CallInvoker> found = [];
            foreach (GrpcChannel channel in channels)
            {
                foreach ((string name, string service) in Hosts)
                {
                    if (await ServesAsync(channel, service, cancellationToken).ConfigureAwait(false) && !found.TryAdd(name, channel.CreateCallInvoker()))
                    {
                        throw new ServiceAddressException($"two of the addresses serve {name}; give one for each of timecode, footage, rendering");
                    }
                }
            }

            string[] missing = [.. Hosts.Select(host => host.Name).Where(name => !found.ContainsKey(name))];
            return missing.Length == 0
                ? new(channels, new(found["timecode"], found["footage"], found["rendering"], options))
                : throw new ServiceAddressException($"none of {string.Join(", ", addresses)} serves {string.Join(" or ", missing)}");
        }
        catch
        {
            channels.ForEach(channel => channel.Dispose());
            throw;
        }
    }

    /// <summary>Closes the channels.</summary>
    public ValueTask DisposeAsync()
    {
        channels.ForEach(channel => channel.Dispose());
        return ValueTask.CompletedTask;
    }

    private static GrpcChannel Channel(string address)
    {
        if (!Uri.TryCreate(address, UriKind.Absolute, out Uri? url) || url.Scheme is not ("http" or "https") || url.AbsolutePath != "/")
        {
            throw new ServiceAddressException($"'{address}' is not the address of a service; write one such as http://127.0.0.1:5101");
        }

        // The service judges what is sent; what it answers obeys the same bound.
        return GrpcChannel.ForAddress(url, new() { MaxReceiveMessageSize = Wire.MaximumMessageBytes, MaxSendMessageSize = null });
    }

    private static async Task<bool> ServesAsync(GrpcChannel channel, string service, CancellationToken cancellationToken)
    {
        Health.HealthClient health = new(channel);
        try
        {
            HealthCheckResponse answer = await health.CheckAsync(
                new() { Service = service }, deadline: DateTime.UtcNow.AddSeconds(5), cancellationToken: cancellationToken).ResponseAsync.ConfigureAwait(false);
            return answer.Status == HealthCheckResponse.Types.ServingStatus.Serving;
        }
        catch (RpcException failure) when (failure.StatusCode == StatusCode.NotFound)
        {
            return false;
        }
        catch (RpcException failure) when (failure.StatusCode == StatusCode.Cancelled && cancellationToken.IsCancellationRequested)
        {
            throw new OperationCanceledException("Connecting was given up.", failure, cancellationToken);
        }
        catch (RpcException failure)
        {
            throw new ServiceAddressException($"no service answers at {channel.Target}: {failure.Status.Detail}", failure);
        }
    }
}
