using Grpc.Core;
using PostPipeline.Contracts;
using PostPipeline.Services.Tests.Probes.V1;
using Xunit;
using static PostPipeline.Services.Tests.Transports.ProbeCalls;

namespace PostPipeline.Services.Tests.Transports.Contracts;

/// <summary>What a single call brings: the answer, headers and trailers, a scope and a message of its own.</summary>
public abstract class AnswerContract<TTransport> : TransportContract<TTransport>
    where TTransport : ITransportFactory
{
    [Fact]
    public async Task Unary_Echo_AnswersAndIsOk()
    {
        using AsyncUnaryCall<ProbeResponse> call = Client.AskAsync(Request("echo", text: "Grüße"));
        Assert.Equal("Grüße", (await call).Text);
        Assert.Equal(StatusCode.OK, call.GetStatus().StatusCode);
        Assert.NotEmpty(call.GetTrailers().GetValue(Wire.CorrelationHeader)!);
        Assert.Equal(Wire.EngineVersion, call.GetTrailers().GetValue(Wire.EngineHeader));
    }

    [Fact]
    public void Unary_Blocking_Answers() => Assert.Equal("now", Client.Ask(Request("echo", text: "now")).Text);

    [Fact]
    public async Task Unary_HeadersAndTrailers_CrossBothWays()
    {
        using AsyncUnaryCall<ProbeResponse> call = Client.AskAsync(Request("headers", text: "from the probe"), new Metadata { { "probe-request", "from the caller" } });
        Assert.Equal("from the probe", (await call.ResponseHeadersAsync).GetValue("probe-header"));
        Assert.Equal("from the caller", (await call).Text);
        Assert.Equal("answered", call.GetTrailers().GetValue("probe-trailer"));
    }

    [Fact]
    public async Task Unary_CorrelationIdGiven_IsKeptAndUnsafeOneIsReplaced()
    {
        using AsyncUnaryCall<ProbeResponse> kept = Client.AskAsync(Request("echo"), new Metadata { { Wire.CorrelationHeader, "run-7" } });
        await kept;
        Assert.Equal("run-7", kept.GetTrailers().GetValue(Wire.CorrelationHeader));

        using AsyncUnaryCall<ProbeResponse> replaced = Client.AskAsync(Request("echo"), new Metadata { { Wire.CorrelationHeader, "a b;rm" } });
        await replaced;
        Assert.NotEqual("a b;rm", replaced.GetTrailers().GetValue(Wire.CorrelationHeader));
    }

    [Fact]
    public async Task Unary_ServiceChangesItsRequest_TheCallersMessageStays()
    {
        ProbeRequest request = Request("change", text: "mine");
        Assert.Equal("changed by the service", (await Client.AskAsync(request)).Text);
        Assert.Equal("mine", request.Text);
    }

    [Fact]
    public async Task Unary_EachCall_HasAScopeThatEnds()
    {
        ProbeResponse first = await Client.AskAsync(Request("scope"));
        ProbeResponse second = await Client.AskAsync(Request("scope"));
        Assert.NotEqual(first.Text, second.Text);
        await Eventually(() => Log.OpenScopes == 0);
    }

    [Fact]
    public void Unary_StatusBeforeTheEnd_IsRefused()
    {
        using AsyncUnaryCall<ProbeResponse> call = Client.AskAsync(Request("wait"));
        Assert.Throws<InvalidOperationException>(() => call.GetStatus());
        Assert.Throws<InvalidOperationException>(() => call.GetTrailers());
    }

    [Fact]
    public async Task Unary_ManyAtOnce_AllAnswer()
    {
        ProbeResponse[] answers = await Task.WhenAll(Enumerable.Range(0, 200).Select(i => Client.AskAsync(Request("echo", i)).ResponseAsync));
        Assert.Equal(Enumerable.Range(0, 200), answers.Select(answer => answer.Number));
    }
}

public sealed class EmbeddedAnswerTests : AnswerContract<EmbeddedTransport>;

public sealed class MarshallingAnswerTests : AnswerContract<MarshallingTransport>;

public sealed class KestrelAnswerTests : AnswerContract<KestrelTransport>;
