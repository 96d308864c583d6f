using System.Net;
using Grpc.Core;
using Grpc.Net.Client;
using Microsoft.AspNetCore.Builder;
using PostPipeline.Contracts;
using PostPipeline.Hosting;

namespace PostPipeline.Services.Tests.Transports;

/// <summary>Real hosts on free loopback ports, built as their processes build them.</summary>
public sealed class KestrelTransport : ITransport, ITransportFactory
{
    private readonly List<WebApplication> applications = [];
    private readonly List<GrpcChannel> channels = [];

    private KestrelTransport(Dictionary<string, CallInvoker> byService) => Invoker = new ByServiceInvoker(byService);

    public CallInvoker Invoker { get; }

    public static async Task<ITransport> OpenAsync(HostSettings settings, params HostDefinition[] hosts)
    {
        Dictionary<string, CallInvoker> byService = [];
        KestrelTransport transport = new(byService);
        foreach (HostDefinition host in hosts)
        {
            WebApplication application = PostPipelineHost.Build(host, new(new(IPAddress.Loopback, 0), settings, StopWithInput: false));
            transport.applications.Add(application);
            await application.StartAsync();
            GrpcChannel channel = GrpcChannel.ForAddress(application.Urls.Single(), new() { MaxReceiveMessageSize = Wire.MaximumMessageBytes });
            transport.channels.Add(channel);
            foreach (HostedService service in host.Services)
            {
                byService.Add(service.FullName, channel.CreateCallInvoker());
            }
        }

        return transport;
    }

    public async ValueTask DisposeAsync()
    {
        channels.ForEach(channel => channel.Dispose());
        foreach (WebApplication application in applications)
        {
            await application.DisposeAsync();
        }
    }

    /// <summary>Picks the channel by the service's name, as a client with three addresses does.</summary>
    private sealed class ByServiceInvoker(Dictionary<string, CallInvoker> byService) : CallInvoker
    {
        public override TResponse BlockingUnaryCall<TRequest, TResponse>(Method<TRequest, TResponse> method, string? host, CallOptions options, TRequest request) =>
            byService[method.ServiceName].BlockingUnaryCall(method, host, options, request);

        public override AsyncUnaryCall<TResponse> AsyncUnaryCall<TRequest, TResponse>(Method<TRequest, TResponse> method, string? host, CallOptions options, TRequest request) =>
            byService[method.ServiceName].AsyncUnaryCall(method, host, options, request);

        public override AsyncServerStreamingCall<TResponse> AsyncServerStreamingCall<TRequest, TResponse>(Method<TRequest, TResponse> method, string? host, CallOptions options, TRequest request) =>
            byService[method.ServiceName].AsyncServerStreamingCall(method, host, options, request);

        public override AsyncClientStreamingCall<TRequest, TResponse> AsyncClientStreamingCall<TRequest, TResponse>(Method<TRequest, TResponse> method, string? host, CallOptions options) =>
            byService[method.ServiceName].AsyncClientStreamingCall(method, host, options);

        public override AsyncDuplexStreamingCall<TRequest, TResponse> AsyncDuplexStreamingCall<TRequest, TResponse>(Method<TRequest, TResponse> method, string? host, CallOptions options) =>
            byService[method.ServiceName].AsyncDuplexStreamingCall(method, host, options);
    }
}
