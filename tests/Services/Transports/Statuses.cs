using Grpc.Core;
using Xunit;

namespace PostPipeline.Services.Tests.Transports;

/// <summary>The statuses of gRPC.</summary>
public static class Statuses
{
    public static TheoryData<StatusCode> EveryError => [.. Enum.GetValues<StatusCode>().Where(code => code != StatusCode.OK)];
}
