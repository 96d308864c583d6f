using Google.Protobuf;
using Grpc.Core;
using PostPipeline.Services.Tests.Probes.V1;
using Xunit;
using static PostPipeline.Services.Tests.Transports.ProbeCalls;

namespace PostPipeline.Services.Tests.Transports.Contracts;

/// <summary>Messages beyond the limit, in either direction.</summary>
public abstract class MessageSizeContract<TTransport> : TransportContract<TTransport>
    where TTransport : ITransportFactory
{
    [Fact]
    public async Task Unary_RequestTooLarge_IsResourceExhausted() =>
        Assert.Equal(
            (StatusCode.ResourceExhausted, "Received message exceeds the maximum configured message size."),
            Pair(await Fails(new() { Action = "echo", Payload = ByteString.CopyFrom(new byte[LimitBytes]) })));

    [Fact]
    public async Task Unary_ResponseTooLarge_IsResourceExhausted() =>
        Assert.Equal(
            (StatusCode.ResourceExhausted, "Sending message exceeds the maximum configured message size."),
            Pair(await Fails(Request("large", LimitBytes))));

    [Fact]
    public async Task Unary_JustBelowTheLimit_Passes() => Assert.Equal(LimitBytes - 10, (await Client.AskAsync(Request("large", LimitBytes - 10))).Payload.Length);

    [Fact]
    public async Task ServerStreaming_MessageTooLarge_IsResourceExhausted()
    {
        using AsyncServerStreamingCall<ProbeResponse> call = Client.Watch(new() { Action = "echo", Number = 2, Payload = ByteString.CopyFrom(new byte[LimitBytes - 30]) });
        Assert.Equal([0, 1], await Numbers(call.ResponseStream));

        using AsyncServerStreamingCall<ProbeResponse> tooLarge = Client.Watch(new() { Action = "echo", Number = 1, Payload = ByteString.CopyFrom(new byte[LimitBytes]) });
        Assert.Equal(StatusCode.ResourceExhausted, (await Assert.ThrowsAsync<RpcException>(() => tooLarge.ResponseStream.MoveNext(CancellationToken.None))).StatusCode);
    }

    [Fact]
    public async Task ClientStreaming_MessageTooLarge_IsResourceExhausted()
    {
        using AsyncClientStreamingCall<ProbeRequest, ProbeResponse> call = Client.Collect();

        // The service may refuse while the message is still being written; the write fails then, by status or because
        // the call is over already. The call's own status is what is promised.
        Exception? write = await Record.ExceptionAsync(() => call.RequestStream.WriteAsync(new() { Action = "echo", Payload = ByteString.CopyFrom(new byte[LimitBytes]) }));
        Assert.True(write is null or RpcException or InvalidOperationException or IOException, $"{write}");
        Assert.Equal(StatusCode.ResourceExhausted, (await Assert.ThrowsAsync<RpcException>(() => call.ResponseAsync)).StatusCode);
    }
}

public sealed class EmbeddedMessageSizeTests : MessageSizeContract<EmbeddedTransport>;

public sealed class MarshallingMessageSizeTests : MessageSizeContract<MarshallingTransport>;

public sealed class KestrelMessageSizeTests : MessageSizeContract<KestrelTransport>;
