using PostPipeline.Services.Tests.Transports;
using PostPipeline.Timecodes.Service;

namespace PostPipeline.Services.Tests.Timecode;

/// <summary>What the timecode host promises, over any transport.</summary>
/// <typeparam name="TTransport">The transport.</typeparam>
public abstract class TimecodeHostContract<TTransport>() : HostContract<TTransport>(TimecodeHost.Definition)
    where TTransport : ITransportFactory;
