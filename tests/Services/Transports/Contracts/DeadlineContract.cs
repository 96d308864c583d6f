using Grpc.Core;
using PostPipeline.Services.Tests.Probes.V1;
using Xunit;
using static PostPipeline.Services.Tests.Transports.ProbeCalls;

namespace PostPipeline.Services.Tests.Transports.Contracts;

/// <summary>Deadlines, whatever the service is doing when they pass.</summary>
public abstract class DeadlineContract<TTransport> : TransportContract<TTransport>
    where TTransport : ITransportFactory
{
    [Fact]
    public async Task Unary_DeadlinePassesWhileTheServiceWaits_BothSidesSee()
    {
        foreach (DateTime deadline in Deadlines(() => Log.Started.IsCompleted))
        {
            RpcException failure = await Assert.ThrowsAsync<RpcException>(() => Client.AskAsync(Request("wait"), deadline: deadline).ResponseAsync);
            Assert.Equal(StatusCode.DeadlineExceeded, failure.StatusCode);
        }

        await Log.Cancelled.WaitAsync(Patience);
    }

    [Fact]
    public async Task Unary_DeadlinePassesWhileTheServiceIsDeaf_TheCallerGoesOn()
    {
        using AsyncUnaryCall<ProbeResponse> call = Client.AskAsync(Request("deaf", 5_000), deadline: DateTime.UtcNow.AddMilliseconds(200));
        Task first = await Task.WhenAny(call.ResponseAsync, Task.Delay(4_000));
        Assert.Same(call.ResponseAsync, first);
        Assert.Equal(StatusCode.DeadlineExceeded, (await Assert.ThrowsAsync<RpcException>(() => call.ResponseAsync)).StatusCode);
    }

    [Fact]
    public async Task Unary_DeadlineAlreadyPast_NeverStarts()
    {
        RpcException failure = await Assert.ThrowsAsync<RpcException>(() => Client.AskAsync(Request("echo"), deadline: DateTime.UtcNow.AddSeconds(-1)).ResponseAsync);
        Assert.Equal(StatusCode.DeadlineExceeded, failure.StatusCode);
        Assert.False(Log.Started.IsCompleted);
    }

    [Fact]
    public async Task Unary_Deadline_IsKnownToTheService() =>
        Assert.Equal("near", (await Client.AskAsync(Request("deadline"), deadline: DateTime.UtcNow.AddMinutes(1))).Text);

    [Fact]
    public async Task ServerStreaming_DeadlineWhileWaiting_IsDeadlineExceeded()
    {
        bool read = false;
        foreach (DateTime deadline in Deadlines(() => read))
        {
            using AsyncServerStreamingCall<ProbeResponse> call = Client.Watch(Request("wait", 1), deadline: deadline);
            RpcException failure = await Assert.ThrowsAsync<RpcException>(async () =>
            {
                read = await call.ResponseStream.MoveNext(CancellationToken.None);
                await call.ResponseStream.MoveNext(CancellationToken.None);
            });
            Assert.Equal(StatusCode.DeadlineExceeded, failure.StatusCode);
        }

        Assert.True(read);
        await Log.Cancelled.WaitAsync(Patience);
    }

    [Fact]
    public async Task ClientStreaming_NeverHalfClosed_DeadlineEndsIt()
    {
        foreach (DateTime deadline in Deadlines(() => Log.Started.IsCompleted))
        {
            using AsyncClientStreamingCall<ProbeRequest, ProbeResponse> call = Client.Collect(deadline: deadline);
            RpcException failure = await Assert.ThrowsAsync<RpcException>(async () =>
            {
                await call.RequestStream.WriteAsync(Request("echo"));
                await call.ResponseAsync;
            });
            Assert.Equal(StatusCode.DeadlineExceeded, failure.StatusCode);
        }

        await Log.Cancelled.WaitAsync(Patience);
    }
}

public sealed class EmbeddedDeadlineTests : DeadlineContract<EmbeddedTransport>;

public sealed class MarshallingDeadlineTests : DeadlineContract<MarshallingTransport>;

public sealed class KestrelDeadlineTests : DeadlineContract<KestrelTransport>;
