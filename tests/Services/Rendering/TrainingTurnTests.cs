using Grpc.Core;
using Microsoft.Extensions.DependencyInjection;
using PostPipeline.Client;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Embedded;
using PostPipeline.Rendering.Service;
using PostPipeline.Rendering.Service.Storage;
using PostPipeline.RenderTimes;
using Xunit;

namespace PostPipeline.Services.Tests.Rendering;

/// <summary>Training as callers meet it: one fit at a time, a bounded queue, a caller that gives up.</summary>
public sealed class TrainingTurnTests : IDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(60);

    private readonly string folder = Directory.CreateTempSubdirectory("postpipeline-turns").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public async Task TrainModel_QueueIsFull_IsResourceExhaustedWithARetryDelay()
    {
        using TrainingQueue queue = new(waiting: 0);
        await using EmbeddedCallInvoker invoker = Start(queue);
        SuiteClients clients = SuiteClients.Over(invoker);
        string set = (await SmallSet.Import(clients, seconds: 1)).SetId;
        using ManualResetEventSlim release = new();
        Task<int> runs = queue.RunAsync(_ => Held(release), CancellationToken.None);

        // The generated client alone: the suite's own would wait out the delay and try again.
        RpcException full = await Assert.ThrowsAsync<RpcException>(async () => await new RenderTimeService.RenderTimeServiceClient(invoker).TrainModelAsync(new() { SetId = set, Seed = 1 }));
        ServiceCallException refused = ServiceCallException.From(full, "/postpipeline.rendering.v1.RenderTimeService/TrainModel");
        Assert.Equal(StatusCode.ResourceExhausted, refused.StatusCode);
        Assert.Equal(TimeSpan.FromSeconds(30), refused.RetryAfter);
        release.Set();
        await runs;
        Assert.NotEmpty((await clients.RenderTimes.TrainModelAsync(new() { SetId = set, Seed = 1 })).ModelId);
    }

    [Fact]
    public async Task TrainModel_CallerGivesUp_NoModelIsKept()
    {
        using TrainingQueue queue = new(waiting: 4);
        await using EmbeddedCallInvoker invoker = Start(queue);
        SuiteClients clients = SuiteClients.Over(invoker);
        string set = (await SmallSet.Import(clients, seconds: 1)).SetId;
        using ManualResetEventSlim release = new();
        Task<int> runs = queue.RunAsync(_ => Held(release), CancellationToken.None);
        using CancellationTokenSource caller = new();
        Task<TrainModelResponse> waits = clients.RenderTimes.TrainModelAsync(new() { SetId = set, Seed = 1 }, cancellationToken: caller.Token).ResponseAsync;
        await Task.Delay(50);
        await caller.CancelAsync();
        await Assert.ThrowsAnyAsync<Exception>(() => waits.WaitAsync(Patience));
        release.Set();
        await runs;

        // The next in turn comes after whatever the abandoned one still did.
        await queue.RunAsync(_ => 0, CancellationToken.None).WaitAsync(Patience);
        Assert.Empty((await clients.RenderTimes.ListModelsAsync(new())).Models);
    }

    // Made at 1 and at 1.5 times the seconds: on rows of the slower kind the model that learned from such rows errs less.
    [Fact]
    public async Task CompareModels_TwoSets_SaysWhichErrsLessAndKeepsBothFromWhatTheyKnow()
    {
        await using EmbeddedSuite suite = EmbeddedSuite.InFolder(folder);
        string fast = (await SmallSet.Import(suite.Clients, seconds: 1)).SetId;
        string slow = (await SmallSet.Import(suite.Clients, seconds: 1.5)).SetId;
        string first = (await suite.Clients.RenderTimes.TrainModelAsync(new() { SetId = fast, Seed = 1 })).ModelId;
        string second = (await suite.Clients.RenderTimes.TrainModelAsync(new() { SetId = slow, Seed = 1 })).ModelId;
        CompareModelsRequest request = new() { FirstModelId = first, SecondModelId = second, SetId = slow, Seed = 1 };
        CompareModelsResponse answer = await suite.Clients.RenderTimes.CompareModelsAsync(request);
        Assert.Equal(Contracts.Rendering.V1.BetterModel.Second, answer.Better);
        Assert.Equal((first, second), (answer.First.ModelId, answer.Second.ModelId));
        Assert.Equal((96, 12, 12, 0), (answer.Rows, answer.Families, answer.FamiliesHeldOut, answer.RowsLeftOut));
        Assert.InRange(answer.DifferencePercent, -40, -20);
        if (Environment.GetEnvironmentVariable("POSTPIPELINE_LONG") == "1")
        {
            Assert.Equal(answer, await suite.Clients.RenderTimes.CompareModelsAsync(request));
        }

        await suite.Clients.Benchmarks.DeleteBenchmarksAsync(new() { SetId = fast });
        ServiceCallException gone = await Assert.ThrowsAsync<ServiceCallException>(async () => await suite.Clients.RenderTimes.CompareModelsAsync(request));
        Assert.Equal(StatusCode.FailedPrecondition, gone.StatusCode);
        Assert.Contains("were deleted", gone.Message, StringComparison.Ordinal);
        request.FirstModelId = "unheard of";
        Assert.Equal(StatusCode.NotFound, (await Assert.ThrowsAsync<ServiceCallException>(async () => await suite.Clients.RenderTimes.CompareModelsAsync(request))).StatusCode);
    }

    private static int Held(ManualResetEventSlim release)
    {
        release.Wait(Patience);
        return 0;
    }

    private EmbeddedCallInvoker Start(TrainingQueue queue) => new([RenderingHost.Definition with
    {
        Register = (services, _) =>
        {
            services.AddSingleton<IBenchmarkStore>(new FolderBenchmarkStore(folder));
            services.AddSingleton(queue);
        },
    }]);
}
