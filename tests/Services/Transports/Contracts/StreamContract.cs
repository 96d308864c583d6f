using Google.Protobuf;
using Grpc.Core;
using PostPipeline.Services.Tests.Probes.V1;
using Xunit;
using static PostPipeline.Services.Tests.Transports.ProbeCalls;

namespace PostPipeline.Services.Tests.Transports.Contracts;

/// <summary>Streams in either direction and in both: order, half-close, back-pressure, and an end before the other side's.</summary>
public abstract class StreamContract<TTransport> : TransportContract<TTransport>
    where TTransport : ITransportFactory
{
    [Fact]
    public async Task ServerStreaming_Messages_ArriveInOrder()
    {
        using AsyncServerStreamingCall<ProbeResponse> call = Client.Watch(Request("echo", 1_000));
        List<int> numbers = await Numbers(call.ResponseStream);
        Assert.Equal(Enumerable.Range(0, 1_000), numbers);
        Assert.Equal(StatusCode.OK, call.GetStatus().StatusCode);
    }

    [Fact]
    public async Task ServerStreaming_FailsAfterMessages_MessagesArriveFirst()
    {
        using AsyncServerStreamingCall<ProbeResponse> call = Client.Watch(Request("status", 3, "then it broke"));
        List<int> numbers = [];
        RpcException failure = await Assert.ThrowsAsync<RpcException>(async () =>
        {
            while (await call.ResponseStream.MoveNext(CancellationToken.None))
            {
                numbers.Add(call.ResponseStream.Current.Number);
            }
        });
        Assert.Equal([0, 1, 2], numbers);
        Assert.Equal((StatusCode.Aborted, "then it broke"), Pair(failure));
        Assert.Equal(StatusCode.Aborted, call.GetStatus().StatusCode);
    }

    [Fact]
    public async Task ServerStreaming_SlowReader_HoldsTheWriterBack()
    {
        // 54 MB in all: more than the buffers of any transport hold (the client's HTTP/2 window grows to 16 MB at most).
        ProbeRequest request = new() { Action = "echo", Number = 600, Payload = ByteString.CopyFrom(new byte[90_000]) };
        using AsyncServerStreamingCall<ProbeResponse> call = Client.Watch(request);
        Assert.True(await call.ResponseStream.MoveNext(CancellationToken.None));
        await Settled(() => Log.Written);
        Assert.InRange(Log.Written, 1, 300);
        Assert.Equal(599, (await Numbers(call.ResponseStream)).Count);
        Assert.Equal(600, Log.Written);
    }

    [Fact]
    public async Task ClientStreaming_HalfClosed_Answers()
    {
        using AsyncClientStreamingCall<ProbeRequest, ProbeResponse> call = Client.Collect();
        for (int i = 0; i < 100; i++)
        {
            await call.RequestStream.WriteAsync(Request("echo"));
        }

        await call.RequestStream.CompleteAsync();
        Assert.Equal(100, (await call).Number);
        Assert.Equal(StatusCode.OK, call.GetStatus().StatusCode);
    }

    [Fact]
    public async Task ClientStreaming_Empty_Answers()
    {
        using AsyncClientStreamingCall<ProbeRequest, ProbeResponse> call = Client.Collect();
        await call.RequestStream.CompleteAsync();
        Assert.Equal(0, (await call).Number);
    }

    [Fact]
    public async Task ClientStreaming_WriteAfterComplete_IsRefused()
    {
        using AsyncClientStreamingCall<ProbeRequest, ProbeResponse> call = Client.Collect();
        await call.RequestStream.WriteAsync(Request("deaf", 200));
        await call.RequestStream.CompleteAsync();
        await Assert.ThrowsAsync<InvalidOperationException>(() => call.RequestStream.WriteAsync(Request("echo")));
        Assert.Equal(1, (await call).Number);
    }

    [Fact]
    public async Task ClientStreaming_ServiceAnswersEarly_LaterWritesAreRefused()
    {
        using AsyncClientStreamingCall<ProbeRequest, ProbeResponse> call = Client.Collect();
        await call.RequestStream.WriteAsync(Request("enough"));
        Assert.Equal(1, (await call).Number);
        await Assert.ThrowsAsync<RpcException>(() => call.RequestStream.WriteAsync(Request("echo")));
    }

    [Fact]
    public async Task ClientStreaming_ServiceRefusesMidway_TheCallerSeesTheStatus()
    {
        using AsyncClientStreamingCall<ProbeRequest, ProbeResponse> call = Client.Collect();
        await call.RequestStream.WriteAsync(Request("echo"));
        await call.RequestStream.WriteAsync(Request("violations"));
        Assert.Equal(StatusCode.InvalidArgument, (await Assert.ThrowsAsync<RpcException>(() => call.ResponseAsync)).StatusCode);
    }

    [Fact]
    public async Task Duplex_EachRequest_IsAnsweredAndHalfCloseIsSeen()
    {
        using AsyncDuplexStreamingCall<ProbeRequest, ProbeResponse> call = Client.Converse();
        for (int i = 0; i < 50; i++)
        {
            await call.RequestStream.WriteAsync(Request("echo", i));
            Assert.True(await call.ResponseStream.MoveNext(CancellationToken.None));
            Assert.Equal(i, call.ResponseStream.Current.Number);
        }

        await call.RequestStream.CompleteAsync();
        Assert.True(await call.ResponseStream.MoveNext(CancellationToken.None));
        Assert.Equal("half-closed", call.ResponseStream.Current.Text);
        Assert.False(await call.ResponseStream.MoveNext(CancellationToken.None));
        Assert.Equal(StatusCode.OK, call.GetStatus().StatusCode);
    }

    [Fact]
    public async Task Duplex_ServiceEndsFirst_ReaderSeesTheEnd()
    {
        using AsyncDuplexStreamingCall<ProbeRequest, ProbeResponse> call = Client.Converse();
        await call.RequestStream.WriteAsync(Request("enough"));
        Assert.False(await call.ResponseStream.MoveNext(CancellationToken.None));
        Assert.Equal(StatusCode.OK, call.GetStatus().StatusCode);
    }

    [Fact]
    public async Task Duplex_ServiceRefuses_BothEndsSee()
    {
        using AsyncDuplexStreamingCall<ProbeRequest, ProbeResponse> call = Client.Converse();
        await call.RequestStream.WriteAsync(Request("not-found", text: "m-2"));
        Assert.Equal(StatusCode.NotFound, (await Assert.ThrowsAsync<RpcException>(() => call.ResponseStream.MoveNext(CancellationToken.None))).StatusCode);
        Assert.Equal(StatusCode.NotFound, (await Assert.ThrowsAsync<RpcException>(() => call.RequestStream.WriteAsync(Request("echo")))).StatusCode);
    }
}

public sealed class EmbeddedStreamTests : StreamContract<EmbeddedTransport>;

public sealed class MarshallingStreamTests : StreamContract<MarshallingTransport>;

public sealed class KestrelStreamTests : StreamContract<KestrelTransport>;
