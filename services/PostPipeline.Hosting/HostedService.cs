using System.Reflection;
using Google.Protobuf.Reflection;
using Grpc.Core;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Routing;

namespace PostPipeline.Hosting;

/// <summary>
/// One gRPC service class of a host. A host lists its classes once; the network host maps them to endpoints and the
/// embedded suite binds them to calls from that same list.
/// </summary>
public abstract class HostedService
{
    /// <summary>The class.</summary>
    public abstract Type ServiceType { get; }

    /// <summary>The full name of the service in the protos, for example <c>postpipeline.timecode.v1.TimecodeService</c>.</summary>
    public string FullName => Descriptor(ServiceType).FullName;

    /// <summary>A service class.</summary>
    /// <typeparam name="T">A class that extends a generated service base.</typeparam>
    public static HostedService Of<T>()
        where T : class => new Typed<T>();

    /// <summary>Maps the class to the endpoints of a network host.</summary>
    /// <param name="endpoints">The host's endpoints.</param>
    public abstract void Map(IEndpointRouteBuilder endpoints);

    /// <summary>Calls back with the class as a type argument.</summary>
    /// <param name="visitor">Who asks.</param>
    public abstract void Accept(IVisitor visitor);

    // Generated code marks the base class with the static class that describes the service.
    private static ServiceDescriptor Descriptor(Type type)
    {
        for (Type? level = type; level is not null; level = level.BaseType)
        {
            if (level.GetCustomAttribute<BindServiceMethodAttribute>(inherit: false) is { } mark)
            {
                return (ServiceDescriptor)mark.BindType.GetProperty("Descriptor", BindingFlags.Public | BindingFlags.Static)!.GetValue(null)!;
            }
        }

        throw new ArgumentException($"{type} does not extend a generated service base.", nameof(type));
    }

    /// <summary>Takes a service class as a type argument.</summary>
    public interface IVisitor
    {
        /// <summary>Visits one class.</summary>
        /// <typeparam name="T">The class.</typeparam>
        void Visit<T>()
            where T : class;
    }

    private sealed class Typed<T> : HostedService
        where T : class
    {
        public override Type ServiceType => typeof(T);

        public override void Map(IEndpointRouteBuilder endpoints) => endpoints.MapGrpcService<T>();

        public override void Accept(IVisitor visitor) => visitor.Visit<T>();
    }
}
