using Google.Protobuf;
using Google.Rpc;
using Grpc.Core;
using PostPipeline.Contracts;
using PostPipeline.Services.Tests.Probes.V1;
using Xunit;
using static PostPipeline.Services.Tests.Transports.ProbeCalls;

namespace PostPipeline.Services.Tests.Transports.Contracts;

/// <summary>How a call fails: every status, the reason and the fields behind it, and nothing of the house with it.</summary>
public abstract class FailureContract<TTransport> : TransportContract<TTransport>
    where TTransport : ITransportFactory
{
    [Theory]
    [MemberData(nameof(Statuses.EveryError), MemberType = typeof(Statuses))]
    public async Task Unary_EveryStatusThrown_ReachesTheCaller(StatusCode code)
    {
        using AsyncUnaryCall<ProbeResponse> call = Client.AskAsync(Request("status", (int)code, "said the probe"));
        RpcException failure = await Assert.ThrowsAsync<RpcException>(() => call.ResponseAsync);
        Assert.Equal((code, "said the probe"), (failure.StatusCode, failure.Status.Detail));
        Assert.Equal("thrown", failure.Trailers.GetValue("probe-trailer"));
        Assert.Equal((code, "said the probe"), (call.GetStatus().StatusCode, call.GetStatus().Detail));
        Assert.Equal("thrown", call.GetTrailers().GetValue("probe-trailer"));
    }

    [Theory]
    [MemberData(nameof(Statuses.EveryError), MemberType = typeof(Statuses))]
    public async Task Unary_EveryStatusSet_ReachesTheCaller(StatusCode code)
    {
        RpcException failure = await Fails(Request("set-status", (int)code, "set by the probe"));
        Assert.Equal((code, "set by the probe"), (failure.StatusCode, failure.Status.Detail));
    }

    [Fact]
    public async Task Unary_NoMessage_IsCancelled() =>
        Assert.Equal((StatusCode.Cancelled, "No message returned from method."), Pair(await Fails(Request("nothing"))));

    [Fact]
    public async Task Unary_UnknownService_IsUnimplemented()
    {
        Method<ProbeRequest, ProbeResponse> unknown = new(
            MethodType.Unary,
            "postpipeline.probe.v1.ProbeService",
            "Unheard",
            Marshallers.Create(m => m.ToByteArray(), ProbeRequest.Parser.ParseFrom),
            Marshallers.Create(m => m.ToByteArray(), ProbeResponse.Parser.ParseFrom));
        RpcException failure = await Assert.ThrowsAsync<RpcException>(() => Invoker.AsyncUnaryCall(unknown, null, default, new()).ResponseAsync);
        Assert.Equal(StatusCode.Unimplemented, failure.StatusCode);
    }

    [Fact]
    public async Task Unary_BrokenFields_ListsEachWithItsPath()
    {
        RpcException failure = await Fails(Request("violations"));
        Assert.Equal(StatusCode.InvalidArgument, failure.StatusCode);
        Assert.Equal("cameras[2].frame_rate.denominator is 0; allowed is 1 to 1001 (and 1 more)", failure.Status.Detail);
        BadRequest details = failure.GetRpcStatus()!.GetDetail<BadRequest>();
        Assert.Equal(["cameras[2].frame_rate.denominator", "text"], details.FieldViolations.Select(v => v.Field));
        Assert.Equal(("INVALID_FIELDS", Wire.ErrorDomain), (Info(failure).Reason, Info(failure).Domain));
        Assert.Equal(failure.Trailers.GetValue(Wire.CorrelationHeader), Info(failure).Metadata["correlation_id"]);
    }

    [Fact]
    public async Task Unary_ServiceFailure_KeepsItsStatusAndReason()
    {
        RpcException failure = await Fails(Request("not-found", text: "m-1"));
        Assert.Equal((StatusCode.NotFound, "there is no model 'm-1'"), Pair(failure));
        Assert.Equal("NOT_FOUND", Info(failure).Reason);
    }

    [Fact]
    public async Task Unary_DomainRefuses_IsInvalidArgumentWithItsSentence()
    {
        RpcException failure = await Fails(Request("domain"));
        Assert.Equal(StatusCode.InvalidArgument, failure.StatusCode);
        Assert.Contains("The denominator of a frame rate is 0; allowed is 1 or more.", failure.Status.Detail, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Unary_BeyondSixtyFourBits_IsInvalidArgument() => Assert.Equal(StatusCode.InvalidArgument, (await Fails(Request("overflow"))).StatusCode);

    [Theory]
    [InlineData("fault")]
    [InlineData("argument-fault")]
    public async Task Unary_Fault_IsInternalAndLeaksNothing(string action)
    {
        RpcException failure = await Fails(Request(action));
        Assert.Equal(StatusCode.Internal, failure.StatusCode);
        Assert.DoesNotContain("secret", failure.ToString(), StringComparison.Ordinal);
        Assert.DoesNotContain("Index", failure.Status.Detail, StringComparison.Ordinal);
        Assert.Contains(Info(failure).Metadata["correlation_id"], failure.Status.Detail, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(Wire.ContractHeader)]
    [InlineData(Wire.EngineHeader)]
    public async Task Unary_OtherVersion_IsRefusedNamingBoth(string header)
    {
        RpcException failure = await Assert.ThrowsAsync<RpcException>(() => Client.AskAsync(Request("echo"), new Metadata { { header, "99.0" } }).ResponseAsync);
        Assert.Equal(StatusCode.FailedPrecondition, failure.StatusCode);
        Assert.Equal("VERSION_MISMATCH", Info(failure).Reason);
        Assert.Contains("'99.0'", failure.Status.Detail, StringComparison.Ordinal);
        Assert.Contains(header == Wire.ContractHeader ? Wire.ContractVersion : Wire.EngineVersion, failure.Status.Detail, StringComparison.Ordinal);
    }
}

public sealed class EmbeddedFailureTests : FailureContract<EmbeddedTransport>;

public sealed class MarshallingFailureTests : FailureContract<MarshallingTransport>;

public sealed class KestrelFailureTests : FailureContract<KestrelTransport>;
