using System.Collections.Immutable;
using System.Reflection;
using Grpc.Core;
using Grpc.Core.Interceptors;
using Microsoft.Extensions.DependencyInjection;

namespace PostPipeline.Embedded.Calls;

/// <summary>Binds the methods of one service class: a scope and a service object for each call, the interceptors around it.</summary>
/// <typeparam name="TService">The service class.</typeparam>
internal sealed class MethodBinder<TService>(
    IServiceProvider services, ImmutableArray<Interceptor> interceptors, EmbeddedOptions options, Dictionary<string, IBoundMethod> bound) : ServiceBinderBase
    where TService : class
{
    private readonly ObjectFactory<TService> create = ActivatorUtilities.CreateFactory<TService>([]);

    private delegate Task<TResponse> UnaryOf<TRequest, TResponse>(TService service, TRequest request, ServerCallContext context);

    private delegate Task<TResponse> ClientStreamingOf<TRequest, TResponse>(TService service, IAsyncStreamReader<TRequest> requests, ServerCallContext context);

    private delegate Task ServerStreamingOf<TRequest, TResponse>(TService service, TRequest request, IServerStreamWriter<TResponse> responses, ServerCallContext context);

    private delegate Task DuplexStreamingOf<TRequest, TResponse>(
        TService service, IAsyncStreamReader<TRequest> requests, IServerStreamWriter<TResponse> responses, ServerCallContext context);

    public override void AddMethod<TRequest, TResponse>(Method<TRequest, TResponse> method, UnaryServerMethod<TRequest, TResponse>? handler)
    {
        UnaryOf<TRequest, TResponse> target = Open<UnaryOf<TRequest, TResponse>>(method.Name, typeof(TRequest), typeof(ServerCallContext));
        UnaryServerMethod<TRequest, TResponse> chain = (request, context) => InScope(service => target(service, request, context));
        foreach (Interceptor interceptor in interceptors.Reverse())
        {
            UnaryServerMethod<TRequest, TResponse> inner = chain;
            chain = (request, context) => interceptor.UnaryServerHandler(request, context, inner);
        }

        Add(new BoundMethod<TRequest, TResponse>(method.FullName, options) { Unary = chain });
    }

    public override void AddMethod<TRequest, TResponse>(Method<TRequest, TResponse> method, ClientStreamingServerMethod<TRequest, TResponse>? handler)
    {
        ClientStreamingOf<TRequest, TResponse> target =
            Open<ClientStreamingOf<TRequest, TResponse>>(method.Name, typeof(IAsyncStreamReader<TRequest>), typeof(ServerCallContext));
        ClientStreamingServerMethod<TRequest, TResponse> chain = (requests, context) => InScope(service => target(service, requests, context));
        foreach (Interceptor interceptor in interceptors.Reverse())
        {
            ClientStreamingServerMethod<TRequest, TResponse> inner = chain;
            chain = (requests, context) => interceptor.ClientStreamingServerHandler(requests, context, inner);
        }

        Add(new BoundMethod<TRequest, TResponse>(method.FullName, options) { ClientStreaming = chain });
    }

    public override void AddMethod<TRequest, TResponse>(Method<TRequest, TResponse> method, ServerStreamingServerMethod<TRequest, TResponse>? handler)
    {
        ServerStreamingOf<TRequest, TResponse> target =
            Open<ServerStreamingOf<TRequest, TResponse>>(method.Name, typeof(TRequest), typeof(IServerStreamWriter<TResponse>), typeof(ServerCallContext));
        ServerStreamingServerMethod<TRequest, TResponse> chain = (request, responses, context) => InScope(service => Nothing(target(service, request, responses, context)));
        foreach (Interceptor interceptor in interceptors.Reverse())
        {
            ServerStreamingServerMethod<TRequest, TResponse> inner = chain;
            chain = (request, responses, context) => interceptor.ServerStreamingServerHandler(request, responses, context, inner);
        }

        Add(new BoundMethod<TRequest, TResponse>(method.FullName, options) { ServerStreaming = chain });
    }

    public override void AddMethod<TRequest, TResponse>(Method<TRequest, TResponse> method, DuplexStreamingServerMethod<TRequest, TResponse>? handler)
    {
        DuplexStreamingOf<TRequest, TResponse> target = Open<DuplexStreamingOf<TRequest, TResponse>>(
            method.Name, typeof(IAsyncStreamReader<TRequest>), typeof(IServerStreamWriter<TResponse>), typeof(ServerCallContext));
        DuplexStreamingServerMethod<TRequest, TResponse> chain = (requests, responses, context) => InScope(service => Nothing(target(service, requests, responses, context)));
        foreach (Interceptor interceptor in interceptors.Reverse())
        {
            DuplexStreamingServerMethod<TRequest, TResponse> inner = chain;
            chain = (requests, responses, context) => interceptor.DuplexStreamingServerHandler(requests, responses, context, inner);
        }

        Add(new BoundMethod<TRequest, TResponse>(method.FullName, options) { DuplexStreaming = chain });
    }

    // A delegate that takes the service object as its first argument; the call is virtual, so an override answers.
    private static TDelegate Open<TDelegate>(string name, params Type[] parameters)
        where TDelegate : Delegate =>
        (typeof(TService).GetMethod(name, BindingFlags.Public | BindingFlags.Instance, parameters)
            ?? throw new ArgumentException($"{typeof(TService)} has no method {name}.")).CreateDelegate<TDelegate>();

    private static async Task<bool> Nothing(Task call)
    {
        await call.ConfigureAwait(false);
        return true;
    }

    private void Add(IBoundMethod method) => bound.Add(method.FullName, method);

    private async Task<TResult> InScope<TResult>(Func<TService, Task<TResult>> call)
    {
        AsyncServiceScope scope = services.CreateAsyncScope();
        await using (scope.ConfigureAwait(false))
        {
            if (scope.ServiceProvider.GetService<TService>() is { } registered)
            {
                return await call(registered).ConfigureAwait(false);
            }

            TService service = create(scope.ServiceProvider, []);
            try
            {
                return await call(service).ConfigureAwait(false);
            }
            finally
            {
                (service as IDisposable)?.Dispose();
            }
        }
    }
}
