using System.Collections.Immutable;
using System.Reflection;
using Grpc.Core;
using Grpc.Core.Interceptors;
using PostPipeline.Hosting;

namespace PostPipeline.Embedded.Calls;

/// <summary>Collects the bound methods of a host's service classes.</summary>
internal sealed class MethodTable(IServiceProvider services, ImmutableArray<Interceptor> interceptors, EmbeddedOptions options) : HostedService.IVisitor
{
    public Dictionary<string, IBoundMethod> Bound { get; } = new(StringComparer.Ordinal);

    // The generated BindService names every method with its marshallers. Called with no service, as a network host
    // calls it, it gives the methods without handlers; the handlers are made by the binder, one service object a call.
    public void Visit<T>()
        where T : class
    {
        Type level = typeof(T);
        BindServiceMethodAttribute? mark;
        while ((mark = level.GetCustomAttribute<BindServiceMethodAttribute>(inherit: false)) is null)
        {
            level = level.BaseType ?? throw new ArgumentException($"{typeof(T)} does not extend a generated service base.");
        }

        MethodInfo bind = mark.BindType.GetMethod(mark.BindMethodName, [typeof(ServiceBinderBase), level])
            ?? throw new ArgumentException($"{mark.BindType} has no {mark.BindMethodName}.");
        bind.Invoke(null, [new MethodBinder<T>(services, interceptors, options, Bound), null]);
    }
}
