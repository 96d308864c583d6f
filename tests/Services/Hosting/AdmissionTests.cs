using Google.Rpc;
using Grpc.Core;
using PostPipeline.Embedded;
using PostPipeline.Hosting;
using PostPipeline.Services.Tests.Probes.V1;
using PostPipeline.Services.Tests.Transports;
using Xunit;

namespace PostPipeline.Services.Tests.Hosting;

/// <summary>Too many calls at once, and calls that never end.</summary>
public sealed class AdmissionTests
{
    [Fact]
    public async Task Overload_BeyondTheQueue_IsRefusedWithADelayAndTheRestAnswers()
    {
        HostLimits limits = new() { MaximumRunningCalls = 2, MaximumWaitingCalls = 3, RetryDelay = TimeSpan.FromMilliseconds(250) };
        await using EmbeddedCallInvoker invoker = new([Probe.Host(new())], new() { Settings = new() { Limits = limits } });
        ProbeService.ProbeServiceClient client = new(invoker);

        // Calls that end only when they are given up: two run, three wait, every other one must be refused at once.
        using CancellationTokenSource giveUp = new();
        Task<RpcException>[] calls =
        [
            .. Enumerable.Range(0, 20).Select(_ => Assert.ThrowsAsync<RpcException>(() => client.AskAsync(new() { Action = "wait" }, cancellationToken: giveUp.Token).ResponseAsync)),
        ];
        for (DateTime end = DateTime.UtcNow.AddSeconds(20); calls.Count(call => call.IsCompleted) < 15 && DateTime.UtcNow < end; await Task.Delay(10))
        {
        }

        RpcException[] failures = [.. calls.Where(call => call.IsCompleted).Select(call => call.Result)];
        Assert.Equal(15, failures.Length);
        Assert.All(failures, failure =>
        {
            Assert.Equal(Grpc.Core.StatusCode.ResourceExhausted, failure.StatusCode);
            Assert.Equal("OVERLOADED", failure.GetRpcStatus()!.GetDetail<ErrorInfo>().Reason);
            Assert.Equal(TimeSpan.FromMilliseconds(250), failure.GetRpcStatus()!.GetDetail<RetryInfo>().RetryDelay.ToTimeSpan());
        });
        await giveUp.CancelAsync();
        await Task.WhenAll(calls);
        Assert.Equal("after", await AnsweredAsync(client, "after"));
    }

    // A caller hears that it gave up before the host has freed the place, so the next call may be told to try again: it does.
    private static async Task<string> AnsweredAsync(ProbeService.ProbeServiceClient client, string text)
    {
        DateTime end = DateTime.UtcNow.AddSeconds(20);
        while (true)
        {
            try
            {
                return (await client.AskAsync(new() { Action = "echo", Text = text })).Text;
            }
            catch (RpcException busy) when (busy.StatusCode == Grpc.Core.StatusCode.ResourceExhausted && DateTime.UtcNow < end)
            {
                await Task.Delay(busy.GetRpcStatus()!.GetDetail<RetryInfo>().RetryDelay.ToTimeSpan());
            }
        }
    }

    [Fact]
    public async Task CallTooLong_IsEndedWhateverItsDeadline()
    {
        ProbeLog log = new();
        HostLimits limits = new() { MaximumCallTime = TimeSpan.FromMilliseconds(200) };
        await using EmbeddedCallInvoker invoker = new([Probe.Host(log)], new() { Settings = new() { Limits = limits } });
        RpcException failure = await Assert.ThrowsAsync<RpcException>(() => new ProbeService.ProbeServiceClient(invoker).AskAsync(new() { Action = "wait" }).ResponseAsync);
        Assert.Equal(Grpc.Core.StatusCode.DeadlineExceeded, failure.StatusCode);
        Assert.Equal("CALL_TOO_LONG", failure.GetRpcStatus()!.GetDetail<ErrorInfo>().Reason);
        await log.Cancelled;
    }

    [Fact]
    public void Defaults_AreThoseOfTheLimitsPage()
    {
        HostLimits limits = new();
        Assert.Equal(3_000_000, limits.MaximumMessageBytes);
        Assert.Equal(256, limits.MaximumWaitingCalls);
        Assert.Equal(TimeSpan.FromMinutes(15), limits.MaximumCallTime);
    }
}
