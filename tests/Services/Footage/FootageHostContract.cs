using PostPipeline.Footage.Service;
using PostPipeline.Services.Tests.Transports;

namespace PostPipeline.Services.Tests.Footage;

/// <summary>What the footage host promises, over any transport.</summary>
/// <typeparam name="TTransport">The transport.</typeparam>
public abstract class FootageHostContract<TTransport>() : HostContract<TTransport>(FootageHost.Definition)
    where TTransport : ITransportFactory;
