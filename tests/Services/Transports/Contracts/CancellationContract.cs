using Grpc.Core;
using PostPipeline.Services.Tests.Probes.V1;
using Xunit;
using static PostPipeline.Services.Tests.Transports.ProbeCalls;

namespace PostPipeline.Services.Tests.Transports.Contracts;

/// <summary>Cancelling and disposing a call, before, during and after; both sides see it.</summary>
public abstract class CancellationContract<TTransport> : TransportContract<TTransport>
    where TTransport : ITransportFactory
{
    [Fact]
    public async Task Unary_CancelBefore_NeverStarts()
    {
        RpcException failure = await Assert.ThrowsAsync<RpcException>(() => Client.AskAsync(Request("echo"), cancellationToken: new(canceled: true)).ResponseAsync);
        Assert.Equal(StatusCode.Cancelled, failure.StatusCode);
        Assert.False(Log.Started.IsCompleted);
    }

    [Fact]
    public async Task Unary_CancelDuring_BothSidesSee()
    {
        using CancellationTokenSource source = new();
        using AsyncUnaryCall<ProbeResponse> call = Client.AskAsync(Request("wait"), cancellationToken: source.Token);
        await Log.Started.WaitAsync(Patience);
        await source.CancelAsync();
        Assert.Equal(StatusCode.Cancelled, (await Assert.ThrowsAsync<RpcException>(() => call.ResponseAsync)).StatusCode);
        await Log.Cancelled.WaitAsync(Patience);
        Assert.Equal(StatusCode.Cancelled, call.GetStatus().StatusCode);
    }

    [Fact]
    public async Task Unary_DisposeDuring_IsCancelled()
    {
        AsyncUnaryCall<ProbeResponse> call = Client.AskAsync(Request("wait"));
        await Log.Started.WaitAsync(Patience);
        call.Dispose();
        Assert.Equal(StatusCode.Cancelled, (await Assert.ThrowsAsync<RpcException>(() => call.ResponseAsync)).StatusCode);
        await Log.Cancelled.WaitAsync(Patience);
    }

    [Fact]
    public async Task Unary_CancelAfter_ChangesNothing()
    {
        using CancellationTokenSource source = new();
        using AsyncUnaryCall<ProbeResponse> call = Client.AskAsync(Request("echo", text: "done"), cancellationToken: source.Token);
        await call;
        await source.CancelAsync();
        Assert.Equal("done", (await call.ResponseAsync).Text);
        Assert.Equal(StatusCode.OK, call.GetStatus().StatusCode);
    }

    [Fact]
    public async Task ServerStreaming_CancelDuring_EndsBothSides()
    {
        using CancellationTokenSource source = new();
        using AsyncServerStreamingCall<ProbeResponse> call = Client.Watch(Request("wait", 2), cancellationToken: source.Token);
        Assert.True(await call.ResponseStream.MoveNext(CancellationToken.None));
        Assert.True(await call.ResponseStream.MoveNext(CancellationToken.None));
        await source.CancelAsync();
        Assert.Equal(StatusCode.Cancelled, (await Assert.ThrowsAsync<RpcException>(() => call.ResponseStream.MoveNext(CancellationToken.None))).StatusCode);
        await Log.Cancelled.WaitAsync(Patience);
    }

    [Fact]
    public async Task ServerStreaming_ReadersTokenCancelled_EndsTheCall()
    {
        using CancellationTokenSource source = new();
        using AsyncServerStreamingCall<ProbeResponse> call = Client.Watch(Request("wait", 1));
        Assert.True(await call.ResponseStream.MoveNext(CancellationToken.None));
        Task<bool> reading = call.ResponseStream.MoveNext(source.Token);
        await source.CancelAsync();
        Assert.Equal(StatusCode.Cancelled, (await Assert.ThrowsAsync<RpcException>(() => reading)).StatusCode);
        await Log.Cancelled.WaitAsync(Patience);
    }

    [Fact]
    public async Task ClientStreaming_NeverHalfClosed_CancelEndsBothSides()
    {
        using CancellationTokenSource source = new();
        using AsyncClientStreamingCall<ProbeRequest, ProbeResponse> call = Client.Collect(cancellationToken: source.Token);
        await call.RequestStream.WriteAsync(Request("echo"));
        await Log.Started.WaitAsync(Patience);
        await source.CancelAsync();
        Assert.Equal(StatusCode.Cancelled, (await Assert.ThrowsAsync<RpcException>(() => call.ResponseAsync)).StatusCode);
        await Log.Cancelled.WaitAsync(Patience);
    }

    [Fact]
    public async Task Duplex_CancelDuring_EndsBothSides()
    {
        using AsyncDuplexStreamingCall<ProbeRequest, ProbeResponse> call = Client.Converse();
        await call.RequestStream.WriteAsync(Request("echo"));
        Assert.True(await call.ResponseStream.MoveNext(CancellationToken.None));
        Task<bool> reading = call.ResponseStream.MoveNext(CancellationToken.None);
        call.Dispose();
        Assert.Equal(StatusCode.Cancelled, (await Assert.ThrowsAsync<RpcException>(() => reading)).StatusCode);
        await Log.Cancelled.WaitAsync(Patience);
    }
}

public sealed class EmbeddedCancellationTests : CancellationContract<EmbeddedTransport>;

public sealed class MarshallingCancellationTests : CancellationContract<MarshallingTransport>;

public sealed class KestrelCancellationTests : CancellationContract<KestrelTransport>;
