using Google.Protobuf;
using Google.Rpc;
using Grpc.Core;
using PostPipeline.Contracts;
using PostPipeline.Hosting;
using PostPipeline.Services.Tests.Probes.V1;
using Xunit;

namespace PostPipeline.Services.Tests.Transports;

/// <summary>
/// What callers may rely on, whichever way they reach a service. Each derived class runs every test over one
/// transport. Where the gRPC specification leaves a choice, the network transport (grpc-dotnet over Kestrel) is the
/// model. Sources: gRPC "Status codes and their use in gRPC", "Deadlines", "Cancellation"; google.rpc error details.
/// </summary>
/// <typeparam name="TTransport">The transport.</typeparam>
public abstract class TransportContract<TTransport> : IAsyncLifetime
    where TTransport : ITransportFactory
{
    private const int LimitBytes = 100_000;

    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(20);

    private readonly ProbeLog log = new();
    private ITransport transport = null!;
    private ProbeService.ProbeServiceClient client = null!;

    public async Task InitializeAsync()
    {
        HostSettings settings = new() { Limits = new() { MaximumMessageBytes = LimitBytes, MaximumCallTime = TimeSpan.FromSeconds(60) } };
        transport = await TTransport.OpenAsync(settings, Probe.Host(log));
        client = new(transport.Invoker);
    }

    public async Task DisposeAsync() => await transport.DisposeAsync();

    [Fact]
    public async Task Unary_Echo_AnswersAndIsOk()
    {
        using AsyncUnaryCall<ProbeResponse> call = client.AskAsync(Request("echo", text: "Grüße"));
        Assert.Equal("Grüße", (await call).Text);
        Assert.Equal(StatusCode.OK, call.GetStatus().StatusCode);
        Assert.NotEmpty(call.GetTrailers().GetValue(Wire.CorrelationHeader)!);
        Assert.Equal(Wire.EngineVersion, call.GetTrailers().GetValue(Wire.EngineHeader));
    }

    [Fact]
    public void Unary_Blocking_Answers() => Assert.Equal("now", client.Ask(Request("echo", text: "now")).Text);

    [Theory]
    [MemberData(nameof(Statuses.EveryError), MemberType = typeof(Statuses))]
    public async Task Unary_EveryStatusThrown_ReachesTheCaller(StatusCode code)
    {
        using AsyncUnaryCall<ProbeResponse> call = client.AskAsync(Request("status", (int)code, "said the probe"));
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
        RpcException failure = await Assert.ThrowsAsync<RpcException>(() => transport.Invoker.AsyncUnaryCall(unknown, null, default, new()).ResponseAsync);
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

    [Fact]
    public async Task Unary_HeadersAndTrailers_CrossBothWays()
    {
        using AsyncUnaryCall<ProbeResponse> call = client.AskAsync(Request("headers", text: "from the probe"), new Metadata { { "probe-request", "from the caller" } });
        Assert.Equal("from the probe", (await call.ResponseHeadersAsync).GetValue("probe-header"));
        Assert.Equal("from the caller", (await call).Text);
        Assert.Equal("answered", call.GetTrailers().GetValue("probe-trailer"));
    }

    [Fact]
    public async Task Unary_CorrelationIdGiven_IsKeptAndUnsafeOneIsReplaced()
    {
        using AsyncUnaryCall<ProbeResponse> kept = client.AskAsync(Request("echo"), new Metadata { { Wire.CorrelationHeader, "run-7" } });
        await kept;
        Assert.Equal("run-7", kept.GetTrailers().GetValue(Wire.CorrelationHeader));

        using AsyncUnaryCall<ProbeResponse> replaced = client.AskAsync(Request("echo"), new Metadata { { Wire.CorrelationHeader, "a b;rm" } });
        await replaced;
        Assert.NotEqual("a b;rm", replaced.GetTrailers().GetValue(Wire.CorrelationHeader));
    }

    [Theory]
    [InlineData(Wire.ContractHeader)]
    [InlineData(Wire.EngineHeader)]
    public async Task Unary_OtherVersion_IsRefusedNamingBoth(string header)
    {
        RpcException failure = await Assert.ThrowsAsync<RpcException>(() => client.AskAsync(Request("echo"), new Metadata { { header, "99.0" } }).ResponseAsync);
        Assert.Equal(StatusCode.FailedPrecondition, failure.StatusCode);
        Assert.Equal("VERSION_MISMATCH", Info(failure).Reason);
        Assert.Contains("'99.0'", failure.Status.Detail, StringComparison.Ordinal);
        Assert.Contains(header == Wire.ContractHeader ? Wire.ContractVersion : Wire.EngineVersion, failure.Status.Detail, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Unary_ServiceChangesItsRequest_TheCallersMessageStays()
    {
        ProbeRequest request = Request("change", text: "mine");
        Assert.Equal("changed by the service", (await client.AskAsync(request)).Text);
        Assert.Equal("mine", request.Text);
    }

    [Fact]
    public async Task Unary_EachCall_HasAScopeThatEnds()
    {
        ProbeResponse first = await client.AskAsync(Request("scope"));
        ProbeResponse second = await client.AskAsync(Request("scope"));
        Assert.NotEqual(first.Text, second.Text);
        await Eventually(() => log.OpenScopes == 0);
    }

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
    public async Task Unary_JustBelowTheLimit_Passes() => Assert.Equal(LimitBytes - 10, (await client.AskAsync(Request("large", LimitBytes - 10))).Payload.Length);

    [Fact]
    public async Task Unary_DeadlinePassesWhileTheServiceWaits_BothSidesSee()
    {
        foreach (DateTime deadline in Deadlines(() => log.Started.IsCompleted))
        {
            RpcException failure = await Assert.ThrowsAsync<RpcException>(() => client.AskAsync(Request("wait"), deadline: deadline).ResponseAsync);
            Assert.Equal(StatusCode.DeadlineExceeded, failure.StatusCode);
        }

        await log.Cancelled.WaitAsync(Patience);
    }

    [Fact]
    public async Task Unary_DeadlinePassesWhileTheServiceIsDeaf_TheCallerGoesOn()
    {
        using AsyncUnaryCall<ProbeResponse> call = client.AskAsync(Request("deaf", 5_000), deadline: DateTime.UtcNow.AddMilliseconds(200));
        Task first = await Task.WhenAny(call.ResponseAsync, Task.Delay(4_000));
        Assert.Same(call.ResponseAsync, first);
        Assert.Equal(StatusCode.DeadlineExceeded, (await Assert.ThrowsAsync<RpcException>(() => call.ResponseAsync)).StatusCode);
    }

    [Fact]
    public async Task Unary_DeadlineAlreadyPast_NeverStarts()
    {
        RpcException failure = await Assert.ThrowsAsync<RpcException>(() => client.AskAsync(Request("echo"), deadline: DateTime.UtcNow.AddSeconds(-1)).ResponseAsync);
        Assert.Equal(StatusCode.DeadlineExceeded, failure.StatusCode);
        Assert.False(log.Started.IsCompleted);
    }

    [Fact]
    public async Task Unary_Deadline_IsKnownToTheService() =>
        Assert.Equal("near", (await client.AskAsync(Request("deadline"), deadline: DateTime.UtcNow.AddMinutes(1))).Text);

    [Fact]
    public async Task Unary_CancelBefore_NeverStarts()
    {
        RpcException failure = await Assert.ThrowsAsync<RpcException>(() => client.AskAsync(Request("echo"), cancellationToken: new(canceled: true)).ResponseAsync);
        Assert.Equal(StatusCode.Cancelled, failure.StatusCode);
        Assert.False(log.Started.IsCompleted);
    }

    [Fact]
    public async Task Unary_CancelDuring_BothSidesSee()
    {
        using CancellationTokenSource source = new();
        using AsyncUnaryCall<ProbeResponse> call = client.AskAsync(Request("wait"), cancellationToken: source.Token);
        await log.Started.WaitAsync(Patience);
        await source.CancelAsync();
        Assert.Equal(StatusCode.Cancelled, (await Assert.ThrowsAsync<RpcException>(() => call.ResponseAsync)).StatusCode);
        await log.Cancelled.WaitAsync(Patience);
        Assert.Equal(StatusCode.Cancelled, call.GetStatus().StatusCode);
    }

    [Fact]
    public async Task Unary_DisposeDuring_IsCancelled()
    {
        AsyncUnaryCall<ProbeResponse> call = client.AskAsync(Request("wait"));
        await log.Started.WaitAsync(Patience);
        call.Dispose();
        Assert.Equal(StatusCode.Cancelled, (await Assert.ThrowsAsync<RpcException>(() => call.ResponseAsync)).StatusCode);
        await log.Cancelled.WaitAsync(Patience);
    }

    [Fact]
    public async Task Unary_CancelAfter_ChangesNothing()
    {
        using CancellationTokenSource source = new();
        using AsyncUnaryCall<ProbeResponse> call = client.AskAsync(Request("echo", text: "done"), cancellationToken: source.Token);
        await call;
        await source.CancelAsync();
        Assert.Equal("done", (await call.ResponseAsync).Text);
        Assert.Equal(StatusCode.OK, call.GetStatus().StatusCode);
    }

    [Fact]
    public void Unary_StatusBeforeTheEnd_IsRefused()
    {
        using AsyncUnaryCall<ProbeResponse> call = client.AskAsync(Request("wait"));
        Assert.Throws<InvalidOperationException>(() => call.GetStatus());
        Assert.Throws<InvalidOperationException>(() => call.GetTrailers());
    }

    [Fact]
    public async Task ServerStreaming_Messages_ArriveInOrder()
    {
        using AsyncServerStreamingCall<ProbeResponse> call = client.Watch(Request("echo", 1_000));
        List<int> numbers = await Numbers(call.ResponseStream);
        Assert.Equal(Enumerable.Range(0, 1_000), numbers);
        Assert.Equal(StatusCode.OK, call.GetStatus().StatusCode);
    }

    [Fact]
    public async Task ServerStreaming_FailsAfterMessages_MessagesArriveFirst()
    {
        using AsyncServerStreamingCall<ProbeResponse> call = client.Watch(Request("status", 3, "then it broke"));
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
        using AsyncServerStreamingCall<ProbeResponse> call = client.Watch(request);
        Assert.True(await call.ResponseStream.MoveNext(CancellationToken.None));
        await Settled(() => log.Written);
        Assert.InRange(log.Written, 1, 300);
        Assert.Equal(599, (await Numbers(call.ResponseStream)).Count);
        Assert.Equal(600, log.Written);
    }

    [Fact]
    public async Task ServerStreaming_CancelDuring_EndsBothSides()
    {
        using CancellationTokenSource source = new();
        using AsyncServerStreamingCall<ProbeResponse> call = client.Watch(Request("wait", 2), cancellationToken: source.Token);
        Assert.True(await call.ResponseStream.MoveNext(CancellationToken.None));
        Assert.True(await call.ResponseStream.MoveNext(CancellationToken.None));
        await source.CancelAsync();
        Assert.Equal(StatusCode.Cancelled, (await Assert.ThrowsAsync<RpcException>(() => call.ResponseStream.MoveNext(CancellationToken.None))).StatusCode);
        await log.Cancelled.WaitAsync(Patience);
    }

    [Fact]
    public async Task ServerStreaming_ReadersTokenCancelled_EndsTheCall()
    {
        using CancellationTokenSource source = new();
        using AsyncServerStreamingCall<ProbeResponse> call = client.Watch(Request("wait", 1));
        Assert.True(await call.ResponseStream.MoveNext(CancellationToken.None));
        Task<bool> reading = call.ResponseStream.MoveNext(source.Token);
        await source.CancelAsync();
        Assert.Equal(StatusCode.Cancelled, (await Assert.ThrowsAsync<RpcException>(() => reading)).StatusCode);
        await log.Cancelled.WaitAsync(Patience);
    }

    [Fact]
    public async Task ServerStreaming_DeadlineWhileWaiting_IsDeadlineExceeded()
    {
        bool read = false;
        foreach (DateTime deadline in Deadlines(() => read))
        {
            using AsyncServerStreamingCall<ProbeResponse> call = client.Watch(Request("wait", 1), deadline: deadline);
            RpcException failure = await Assert.ThrowsAsync<RpcException>(async () =>
            {
                read = await call.ResponseStream.MoveNext(CancellationToken.None);
                await call.ResponseStream.MoveNext(CancellationToken.None);
            });
            Assert.Equal(StatusCode.DeadlineExceeded, failure.StatusCode);
        }

        Assert.True(read);
        await log.Cancelled.WaitAsync(Patience);
    }

    [Fact]
    public async Task ServerStreaming_MessageTooLarge_IsResourceExhausted()
    {
        using AsyncServerStreamingCall<ProbeResponse> call = client.Watch(new() { Action = "echo", Number = 2, Payload = ByteString.CopyFrom(new byte[LimitBytes - 30]) });
        Assert.Equal([0, 1], await Numbers(call.ResponseStream));

        using AsyncServerStreamingCall<ProbeResponse> tooLarge = client.Watch(new() { Action = "echo", Number = 1, Payload = ByteString.CopyFrom(new byte[LimitBytes]) });
        Assert.Equal(StatusCode.ResourceExhausted, (await Assert.ThrowsAsync<RpcException>(() => tooLarge.ResponseStream.MoveNext(CancellationToken.None))).StatusCode);
    }

    [Fact]
    public async Task ClientStreaming_HalfClosed_Answers()
    {
        using AsyncClientStreamingCall<ProbeRequest, ProbeResponse> call = client.Collect();
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
        using AsyncClientStreamingCall<ProbeRequest, ProbeResponse> call = client.Collect();
        await call.RequestStream.CompleteAsync();
        Assert.Equal(0, (await call).Number);
    }

    [Fact]
    public async Task ClientStreaming_WriteAfterComplete_IsRefused()
    {
        using AsyncClientStreamingCall<ProbeRequest, ProbeResponse> call = client.Collect();
        await call.RequestStream.WriteAsync(Request("deaf", 200));
        await call.RequestStream.CompleteAsync();
        await Assert.ThrowsAsync<InvalidOperationException>(() => call.RequestStream.WriteAsync(Request("echo")));
        Assert.Equal(1, (await call).Number);
    }

    [Fact]
    public async Task ClientStreaming_NeverHalfClosed_CancelEndsBothSides()
    {
        using CancellationTokenSource source = new();
        using AsyncClientStreamingCall<ProbeRequest, ProbeResponse> call = client.Collect(cancellationToken: source.Token);
        await call.RequestStream.WriteAsync(Request("echo"));
        await log.Started.WaitAsync(Patience);
        await source.CancelAsync();
        Assert.Equal(StatusCode.Cancelled, (await Assert.ThrowsAsync<RpcException>(() => call.ResponseAsync)).StatusCode);
        await log.Cancelled.WaitAsync(Patience);
    }

    [Fact]
    public async Task ClientStreaming_NeverHalfClosed_DeadlineEndsIt()
    {
        foreach (DateTime deadline in Deadlines(() => log.Started.IsCompleted))
        {
            using AsyncClientStreamingCall<ProbeRequest, ProbeResponse> call = client.Collect(deadline: deadline);
            RpcException failure = await Assert.ThrowsAsync<RpcException>(async () =>
            {
                await call.RequestStream.WriteAsync(Request("echo"));
                await call.ResponseAsync;
            });
            Assert.Equal(StatusCode.DeadlineExceeded, failure.StatusCode);
        }

        await log.Cancelled.WaitAsync(Patience);
    }

    [Fact]
    public async Task ClientStreaming_ServiceAnswersEarly_LaterWritesAreRefused()
    {
        using AsyncClientStreamingCall<ProbeRequest, ProbeResponse> call = client.Collect();
        await call.RequestStream.WriteAsync(Request("enough"));
        Assert.Equal(1, (await call).Number);
        await Assert.ThrowsAsync<RpcException>(() => call.RequestStream.WriteAsync(Request("echo")));
    }

    [Fact]
    public async Task ClientStreaming_ServiceRefusesMidway_TheCallerSeesTheStatus()
    {
        using AsyncClientStreamingCall<ProbeRequest, ProbeResponse> call = client.Collect();
        await call.RequestStream.WriteAsync(Request("echo"));
        await call.RequestStream.WriteAsync(Request("violations"));
        Assert.Equal(StatusCode.InvalidArgument, (await Assert.ThrowsAsync<RpcException>(() => call.ResponseAsync)).StatusCode);
    }

    [Fact]
    public async Task ClientStreaming_MessageTooLarge_IsResourceExhausted()
    {
        using AsyncClientStreamingCall<ProbeRequest, ProbeResponse> call = client.Collect();

        // The service may refuse while the message is still being written; the write fails then, by status or because
        // the call is over already. The call's own status is what is promised.
        Exception? write = await Record.ExceptionAsync(() => call.RequestStream.WriteAsync(new() { Action = "echo", Payload = ByteString.CopyFrom(new byte[LimitBytes]) }));
        Assert.True(write is null or RpcException or InvalidOperationException or IOException, $"{write}");
        Assert.Equal(StatusCode.ResourceExhausted, (await Assert.ThrowsAsync<RpcException>(() => call.ResponseAsync)).StatusCode);
    }

    [Fact]
    public async Task Duplex_EachRequest_IsAnsweredAndHalfCloseIsSeen()
    {
        using AsyncDuplexStreamingCall<ProbeRequest, ProbeResponse> call = client.Converse();
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
        using AsyncDuplexStreamingCall<ProbeRequest, ProbeResponse> call = client.Converse();
        await call.RequestStream.WriteAsync(Request("enough"));
        Assert.False(await call.ResponseStream.MoveNext(CancellationToken.None));
        Assert.Equal(StatusCode.OK, call.GetStatus().StatusCode);
    }

    [Fact]
    public async Task Duplex_ServiceRefuses_BothEndsSee()
    {
        using AsyncDuplexStreamingCall<ProbeRequest, ProbeResponse> call = client.Converse();
        await call.RequestStream.WriteAsync(Request("not-found", text: "m-2"));
        Assert.Equal(StatusCode.NotFound, (await Assert.ThrowsAsync<RpcException>(() => call.ResponseStream.MoveNext(CancellationToken.None))).StatusCode);
        Assert.Equal(StatusCode.NotFound, (await Assert.ThrowsAsync<RpcException>(() => call.RequestStream.WriteAsync(Request("echo")))).StatusCode);
    }

    [Fact]
    public async Task Duplex_CancelDuring_EndsBothSides()
    {
        using AsyncDuplexStreamingCall<ProbeRequest, ProbeResponse> call = client.Converse();
        await call.RequestStream.WriteAsync(Request("echo"));
        Assert.True(await call.ResponseStream.MoveNext(CancellationToken.None));
        Task<bool> reading = call.ResponseStream.MoveNext(CancellationToken.None);
        call.Dispose();
        Assert.Equal(StatusCode.Cancelled, (await Assert.ThrowsAsync<RpcException>(() => reading)).StatusCode);
        await log.Cancelled.WaitAsync(Patience);
    }

    [Fact]
    public async Task Unary_ManyAtOnce_AllAnswer()
    {
        ProbeResponse[] answers = await Task.WhenAll(Enumerable.Range(0, 200).Select(i => client.AskAsync(Request("echo", i)).ResponseAsync));
        Assert.Equal(Enumerable.Range(0, 200), answers.Select(answer => answer.Number));
    }

    // A deadline that passes once the service is at work. On a busy machine it can pass before; then the next is four times as far.
    private static IEnumerable<DateTime> Deadlines(Func<bool> wasInside)
    {
        for (TimeSpan until = TimeSpan.FromMilliseconds(300); !wasInside() && until < Patience; until *= 4)
        {
            yield return DateTime.UtcNow + until;
        }
    }

    private static ProbeRequest Request(string action, int number = 0, string text = "") => new() { Action = action, Number = number, Text = text };

    private static (StatusCode Code, string Detail) Pair(RpcException failure) => (failure.StatusCode, failure.Status.Detail);

    private static ErrorInfo Info(RpcException failure) => failure.GetRpcStatus()!.GetDetail<ErrorInfo>();

    private static async Task<List<int>> Numbers(IAsyncStreamReader<ProbeResponse> stream)
    {
        List<int> numbers = [];
        while (await stream.MoveNext(CancellationToken.None))
        {
            numbers.Add(stream.Current.Number);
        }

        return numbers;
    }

    private static async Task Eventually(Func<bool> condition)
    {
        for (DateTime end = DateTime.UtcNow + Patience; !condition(); await Task.Delay(10))
        {
            Assert.True(DateTime.UtcNow < end, "what was waited for did not happen");
        }
    }

    // Waits until a count has not moved for half a second.
    private static async Task Settled(Func<int> count)
    {
        for (int last = -1, quiet = 0; quiet < 10; await Task.Delay(50))
        {
            (last, quiet) = count() == last ? (last, quiet + 1) : (count(), 0);
        }
    }

    private async Task<RpcException> Fails(ProbeRequest request) => await Assert.ThrowsAsync<RpcException>(() => client.AskAsync(request).ResponseAsync);
}

public sealed class EmbeddedTransportTests : TransportContract<EmbeddedTransport>;

public sealed class MarshallingTransportTests : TransportContract<MarshallingTransport>;

public sealed class KestrelTransportTests : TransportContract<KestrelTransport>;

public static class Statuses
{
    public static TheoryData<StatusCode> EveryError => [.. Enum.GetValues<StatusCode>().Where(code => code != StatusCode.OK)];
}
