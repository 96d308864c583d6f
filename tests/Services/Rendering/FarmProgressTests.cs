using System.Diagnostics.CodeAnalysis;
using Grpc.Core;
using PostPipeline.Cli.Commands.Farms;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Embedded;
using Xunit;

namespace PostPipeline.Services.Tests.Rendering;

/// <summary>Long questions to the farm say how far they are, and end when whoever asked gives up.</summary>
[SuppressMessage("Design", "CA1001", Justification = "xunit calls DisposeAsync of IAsyncLifetime.")]
public sealed class FarmProgressTests : IAsyncLifetime
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(60);

    private readonly EmbeddedSuite suite = new();

    public Task InitializeAsync() => Task.CompletedTask;

    public async Task DisposeAsync() => await suite.DisposeAsync();

    [Fact]
    public async Task StreamSegmentAdvice_FourLengths_CountsAllReplicationsAndAnswersTheSame()
    {
        AdviseSegmentsRequest request = Segments(100);
        (List<FarmProgress> figures, AdviseSegmentsResponse? result) = await Read(suite.Clients.Farm.StreamSegmentAdvice(new() { Question = request }), p => p.Progress, p => p.Result);
        CountUpTo(400, figures);
        Assert.Equal(await suite.Clients.Farm.AdviseSegmentsAsync(request), result);
    }

    [Fact]
    public async Task StreamTonightForecast_TwoChanges_CountsAllNightsAndAnswersTheSame()
    {
        ForecastTonightRequest request = Night(100);
        (List<FarmProgress> figures, ForecastTonightResponse? result) = await Read(suite.Clients.Farm.StreamTonightForecast(new() { Question = request }), p => p.Progress, p => p.Result);
        CountUpTo(300, figures);
        Assert.Equal(await suite.Clients.Farm.ForecastTonightAsync(request), result);
    }

    // What the verbs show on stderr is the part that these streams report.
    [Fact]
    public async Task Verbs_ReadingTheStream_AreToldThePartDoneUpToAll()
    {
        Parts parts = new();
        AdviseSegmentsResponse advice = await FarmOptions.LastAsync(
            suite.Clients.Farm.StreamSegmentAdvice(new() { Question = Segments(100) }), p => p.Progress, p => p.Result, parts, CancellationToken.None);
        Assert.Equal(4, advice.Lengths.Count);
        Assert.Equal(1, parts.Seen[^1]);
        Assert.Equal(parts.Seen.Order(), parts.Seen);
    }

    // Each would run for long; given up at its first figure it ends at once, and nothing more is heard.
    [Fact]
    public async Task StreamSegmentAdvice_GivenUpAtItsFirstFigure_Ends()
    {
        using CancellationTokenSource source = new();
        await Assert.ThrowsAnyAsync<Exception>(() => Read(suite.Clients.Farm.StreamSegmentAdvice(new() { Question = Segments(10_000) }, cancellationToken: source.Token), p => p.Progress, p => p.Result, source.Cancel).WaitAsync(Patience));
        Assert.True(source.IsCancellationRequested);
    }

    [Fact]
    public async Task StreamTonightForecast_GivenUpAtItsFirstFigure_Ends()
    {
        using CancellationTokenSource source = new();
        await Assert.ThrowsAnyAsync<Exception>(() => Read(suite.Clients.Farm.StreamTonightForecast(new() { Question = Night(100_000) }, cancellationToken: source.Token), p => p.Progress, p => p.Result, source.Cancel).WaitAsync(Patience));
        Assert.True(source.IsCancellationRequested);
    }

    // What is wrong is named by its place in the question; a question that is not there is named too.
    [Fact]
    public async Task StreamTonightForecast_BadRequest_IsRefusedBeforeAnyFigure()
    {
        Client.ServiceCallException refused = await Assert.ThrowsAsync<Client.ServiceCallException>(
            () => Read(suite.Clients.Farm.StreamTonightForecast(new() { Question = Night(0) }), p => p.Progress, p => p.Result));
        Assert.Equal("replications", Assert.Single(refused.Violations).Field);
        refused = await Assert.ThrowsAsync<Client.ServiceCallException>(() => Read(suite.Clients.Farm.StreamSegmentAdvice(new()), p => p.Progress, p => p.Result));
        Assert.Equal("question", Assert.Single(refused.Violations).Field);
    }

    private sealed class Parts : IProgress<double>
    {
        public List<double> Seen { get; } = [];

        public void Report(double value) => Seen.Add(value);
    }

    private static void CountUpTo(int all, List<FarmProgress> figures)
    {
        Assert.NotEmpty(figures);
        Assert.All(figures, f => Assert.Equal(all, f.Of));
        Assert.Equal(figures.Select(f => f.Done).Distinct().Order(), figures.Select(f => f.Done));
        Assert.Equal(all, figures[^1].Done);
    }

    private static AdviseSegmentsRequest Segments(int replications)
    {
        AdviseSegmentsRequest request = new() { Replications = replications, Farm = new() { FailureProbability = 0.05 }, SegmentFrames = { 10, 20, 50, 100 } };
        request.Farm.NodeClasses.Add(new NodeClass { Label = "node", Count = 4 });
        request.Jobs.Add(new FarmJob { Frames = replications > 1_000 ? 20_000 : 1_000, SecondsPerFrame = 0.8, OverheadSeconds = 45, TaskLogStandardDeviation = 0.2 });
        return request;
    }

    private static ForecastTonightRequest Night(int replications)
    {
        ForecastTonightRequest request = new() { Replications = replications, Farm = new() { FailureProbability = 0.05 } };
        request.Farm.NodeClasses.Add(new NodeClass { Label = "node", Count = 4 });
        request.Jobs.Add(new FarmJob { Label = "pull", Frames = replications > 1_000 ? 2_000 : 1_000, SegmentFrames = 10, SecondsPerFrame = 1, TaskLogStandardDeviation = 0.2 });
        request.Running.Add(new RunningTask { Job = 0, Node = 0, Frames = 10, ElapsedSeconds = 5 });
        request.Changes.Add(new NightChange { Label = "first", Raise = new() { Job = 0, Priority = 10 } });
        request.Changes.Add(new NightChange { Label = "later", Hold = new() { Job = 0, UntilSeconds = 1_000 } });
        return request;
    }

    private static async Task<(List<FarmProgress> Figures, TResult? Result)> Read<TResponse, TResult>(
        AsyncServerStreamingCall<TResponse> call, Func<TResponse, FarmProgress?> progress, Func<TResponse, TResult?> result, Action? atTheFirst = null)
        where TResult : class
    {
        List<FarmProgress> figures = [];
        TResult? last = null;
        using (call)
        {
            await foreach (TResponse part in call.ResponseStream.ReadAllAsync())
            {
                Assert.Null(last);
                last = result(part);
                if (progress(part) is { } figure)
                {
                    figures.Add(figure);
                    atTheFirst?.Invoke();
                }
            }
        }

        return (figures, last);
    }
}
