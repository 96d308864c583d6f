using Google.Rpc;
using Grpc.Core;
using PostPipeline.Services.Tests.Probes.V1;
using Xunit;

namespace PostPipeline.Services.Tests.Transports;

/// <summary>Calls of the probe, and waiting for what it does.</summary>
internal static class ProbeCalls
{
    /// <summary>The most bytes of a message that the probe's host takes or sends.</summary>
    public const int LimitBytes = 100_000;

    /// <summary>How long a test waits for what must happen.</summary>
    public static TimeSpan Patience { get; } = TimeSpan.FromSeconds(20);

    public static ProbeRequest Request(string action, int number = 0, string text = "") => new() { Action = action, Number = number, Text = text };

    public static (StatusCode Code, string Detail) Pair(RpcException failure) => (failure.StatusCode, failure.Status.Detail);

    public static ErrorInfo Info(RpcException failure) => failure.GetRpcStatus()!.GetDetail<ErrorInfo>();

    public static async Task<List<int>> Numbers(IAsyncStreamReader<ProbeResponse> stream)
    {
        List<int> numbers = [];
        while (await stream.MoveNext(CancellationToken.None))
        {
            numbers.Add(stream.Current.Number);
        }

        return numbers;
    }

    // A deadline that passes once the service is at work. On a busy machine it can pass before; then the next is four times as far.
    public static IEnumerable<DateTime> Deadlines(Func<bool> wasInside)
    {
        for (TimeSpan until = TimeSpan.FromMilliseconds(300); !wasInside() && until < Patience; until *= 4)
        {
            yield return DateTime.UtcNow + until;
        }
    }

    public static async Task Eventually(Func<bool> condition)
    {
        for (DateTime end = DateTime.UtcNow + Patience; !condition(); await Task.Delay(10))
        {
            Assert.True(DateTime.UtcNow < end, "what was waited for did not happen");
        }
    }

    // Waits until a count has not moved for half a second.
    public static async Task Settled(Func<int> count)
    {
        for (int last = -1, quiet = 0; quiet < 10; await Task.Delay(50))
        {
            (last, quiet) = count() == last ? (last, quiet + 1) : (count(), 0);
        }
    }
}
