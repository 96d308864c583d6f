using Grpc.Core;
using PostPipeline.Client;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Embedded;
using Xunit;

namespace PostPipeline.Services.Tests.Rendering;

/// <summary>Training as a stream: how far it is, then what it gave.</summary>
public sealed class TrainingProgressTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("postpipeline-training").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public async Task StreamTraining_SmallSet_CountsStepsAndGivesTheSameModel()
    {
        await using EmbeddedSuite suite = EmbeddedSuite.InFolder(folder);
        TrainModelRequest question = new() { SetId = (await SmallSet.Import(suite.Clients, seconds: 1)).SetId, Seed = 1 };
        (List<LearningProgress> figures, TrainModelResponse? result) = await Read(suite.Clients, new() { Question = question });
        Assert.NotEmpty(figures);
        Assert.Equal(figures.Select(f => f.Done).Distinct().Order(), figures.Select(f => f.Done));
        Assert.All(figures, f => Assert.InRange(f.Done, 1, f.Of));
        Assert.Equal(await suite.Clients.RenderTimes.TrainModelAsync(question), result);

        // The model is there: nothing is learned again.
        (figures, TrainModelResponse? again) = await Read(suite.Clients, new() { Question = question });
        Assert.Empty(figures);
        Assert.Equal(result, again);
    }

    // Given up at the first figure: the call ends, and no model is kept.
    [Fact]
    public async Task StreamTraining_GivenUpAtItsFirstFigure_KeepsNoModel()
    {
        await using EmbeddedSuite suite = EmbeddedSuite.InFolder(folder);
        TrainModelRequest question = new() { SetId = (await SmallSet.Import(suite.Clients, seconds: 2)).SetId, Seed = 1 };
        using CancellationTokenSource source = new();
        await Assert.ThrowsAnyAsync<Exception>(() => Read(suite.Clients, new() { Question = question }, source));
        Assert.True(source.IsCancellationRequested);

        // The next in turn comes after whatever the abandoned one still did.
        TrainModelRequest next = new() { SetId = (await SmallSet.Import(suite.Clients, seconds: 3)).SetId, Seed = 1 };
        string only = (await suite.Clients.RenderTimes.TrainModelAsync(next)).ModelId;
        Assert.Equal(only, Assert.Single((await suite.Clients.RenderTimes.ListModelsAsync(new())).Models).ModelId);
    }

    [Fact]
    public async Task StreamTraining_NoQuestionOrNoSuchSet_IsRefused()
    {
        await using EmbeddedSuite suite = EmbeddedSuite.InFolder(folder);
        Assert.Equal("question", Assert.Single((await Assert.ThrowsAsync<ServiceCallException>(() => Read(suite.Clients, new()))).Violations).Field);
        ServiceCallException missing = await Assert.ThrowsAsync<ServiceCallException>(() => Read(suite.Clients, new() { Question = new() { SetId = "unheard of" } }));
        Assert.Equal(StatusCode.NotFound, missing.StatusCode);
    }

    private static async Task<(List<LearningProgress> Figures, TrainModelResponse? Result)> Read(SuiteClients clients, StreamTrainingRequest request, CancellationTokenSource? stop = null)
    {
        List<LearningProgress> figures = [];
        TrainModelResponse? result = null;
        using AsyncServerStreamingCall<StreamTrainingResponse> call = clients.RenderTimes.StreamTraining(request, cancellationToken: stop?.Token ?? default);
        await foreach (StreamTrainingResponse part in call.ResponseStream.ReadAllAsync())
        {
            Assert.Null(result);
            result = part.Result;
            if (part.Progress is { } figure)
            {
                figures.Add(figure);
                stop?.Cancel();
            }
        }

        return (figures, result);
    }
}
