using PostPipeline.RenderTimes;
using Xunit;

namespace PostPipeline.Domain.Tests.RenderTimes;

public class TrainingQueueTests
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(30);

    [Fact]
    public async Task RunAsync_ManyFits_RunOneAtATime()
    {
        using TrainingQueue queue = new(waiting: 20);
        int running = 0;
        int most = 0;
        int[] results = await Task.WhenAll(Enumerable.Range(0, 20).Select(i => queue.RunAsync(
            _ =>
            {
                most = Math.Max(most, Interlocked.Increment(ref running));
                Thread.Sleep(2);
                Interlocked.Decrement(ref running);
                return i;
            },
            CancellationToken.None)));
        Assert.Equal(1, most);
        Assert.Equal(Enumerable.Range(0, 20), results);
    }

    [Fact]
    public async Task RunAsync_AsManyWaitAsMay_NextIsRefusedUntilOneEnds()
    {
        using TrainingQueue queue = new(waiting: 1);
        using ManualResetEventSlim release = new();
        Task<int> runs = queue.RunAsync(_ => Held(release, 1), CancellationToken.None);
        Task<int> waits = queue.RunAsync(_ => 2, CancellationToken.None);
        TrainingQueueFullException full = await Assert.ThrowsAsync<TrainingQueueFullException>(() => queue.RunAsync(_ => 3, CancellationToken.None));
        Assert.Contains("1 wait", full.Message, StringComparison.Ordinal);
        release.Set();
        int[] results = await Task.WhenAll(runs, waits).WaitAsync(Patience);
        Assert.Equal([1, 2], results);
        Assert.Equal(4, await queue.RunAsync(_ => 4, CancellationToken.None).WaitAsync(Patience));
    }

    // The learning library cannot be stopped inside a fit: the caller is answered at once, the fit ends by itself, its turn
    // is over only then, and what it made goes nowhere.
    [Fact]
    public async Task RunAsync_CancelledWhileItRuns_EndsInTheBackgroundAndIsDropped()
    {
        using TrainingQueue queue = new(waiting: 1);
        using ManualResetEventSlim began = new();
        using ManualResetEventSlim release = new();
        using CancellationTokenSource caller = new();
        bool ended = false;
        Task<int> abandoned = queue.RunAsync(
            _ =>
            {
                began.Set();
                release.Wait(Patience, CancellationToken.None);
                ended = true;
                return 1;
            },
            caller.Token);
        Assert.True(began.Wait(Patience));
        await caller.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => abandoned.WaitAsync(Patience));
        Assert.False(ended);

        Task<bool> next = queue.RunAsync(_ => ended, CancellationToken.None);
        await Task.Delay(50);
        Assert.False(next.IsCompleted);
        release.Set();
        Assert.True(await next.WaitAsync(Patience));
        Assert.True(abandoned.IsCanceled);
    }

    [Fact]
    public async Task RunAsync_CancelledWhileItWaits_NeverRunsAndGivesItsPlaceBack()
    {
        using TrainingQueue queue = new(waiting: 1);
        using ManualResetEventSlim release = new();
        using CancellationTokenSource caller = new();
        Task<int> runs = queue.RunAsync(_ => Held(release, 1), CancellationToken.None);
        bool ran = false;
        Task<bool> waits = queue.RunAsync(_ => ran = true, caller.Token);
        await caller.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => waits.WaitAsync(Patience));
        Task<int> inItsPlace = Task.Run(async () =>
        {
            while (true)
            {
                try
                {
                    return await queue.RunAsync(_ => 2, CancellationToken.None);
                }
                catch (TrainingQueueFullException)
                {
                    // The place is given back by the waiting call itself, a moment after its caller was answered.
                    await Task.Delay(5);
                }
            }
        });
        release.Set();
        int[] results = await Task.WhenAll(runs, inItsPlace).WaitAsync(Patience);
        Assert.Equal([1, 2], results);
        Assert.False(ran);
    }

    [Fact]
    public async Task RunAsync_FitThrows_CallerSeesItAndTheTurnIsGivenOn()
    {
        using TrainingQueue queue = new();
        await Assert.ThrowsAsync<TrainingRefusedException>(() => queue.RunAsync<int>(_ => throw new TrainingRefusedException("too few"), CancellationToken.None));
        Assert.Equal(5, await queue.RunAsync(_ => 5, CancellationToken.None).WaitAsync(Patience));
    }

    private static int Held(ManualResetEventSlim release, int value)
    {
        release.Wait(Patience);
        return value;
    }
}
