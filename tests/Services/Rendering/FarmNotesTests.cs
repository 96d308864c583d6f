using System.Diagnostics.CodeAnalysis;
using Grpc.Core;
using PostPipeline.Client;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Embedded;
using Xunit;
using Window = PostPipeline.Contracts.Types.V1.Window;

namespace PostPipeline.Services.Tests.Rendering;

/// <summary>Nothing in a farm's description is ignored in silence: it counts, is refused, or is said to have no effect.</summary>
[SuppressMessage("Design", "CA1001", Justification = "xunit calls DisposeAsync of IAsyncLifetime.")]
public sealed class FarmNotesTests : IAsyncLifetime
{
    private readonly EmbeddedSuite suite = new();

    public Task InitializeAsync() => Task.CompletedTask;

    public async Task DisposeAsync() => await suite.DisposeAsync();

    [Fact]
    public async Task ForecastTonight_AllThatHasNoEffect_IsNamed()
    {
        ForecastTonightRequest request = new() { Replications = 2, Farm = Farm() };
        request.Jobs.Add(Job());
        ForecastTonightResponse night = await suite.Clients.Farm.ForecastTonightAsync(request);
        Assert.Equal(
            [
                "farm.node_classes[0].speed_by_job_class[gone] has no effect: no job is of that class; named here: pull",
                "farm.node_classes[0].slow_factor_low and slow_factor_high have no effect: slow_probability is 0",
                "farm.node_classes[0].mean_down_seconds has no effect: mean_up_seconds is 0, so no node goes down",
                "farm.project_weights have no effect: sharing is strict",
                "farm.nights have no effect: night_failure_probability is 0",
                "farm.licences[paint] has no effect: no job needs it; named here: render",
                "farm.storage_bytes_per_second has no effect: no job reads or writes",
            ],
            night.Notes);
    }

    // The same farm where all of it counts has nothing to say; competing work counts as work.
    [Fact]
    public async Task SimulateFarm_AllOfItCounts_SaysNothing()
    {
        SimulateFarmRequest request = new() { Replications = 2, Farm = Farm() };
        request.Farm.Sharing = SharingRule.Fair;
        request.Farm.NightFailureProbability = 0.1;
        request.Farm.NodeClasses[0].SlowProbability = 0.1;
        request.Farm.NodeClasses[0].MeanUpSeconds = 1e6;
        request.Farm.Competing.Add(new CompetingLoad { JobClass = "gone", JobsPerHour = 1, MeanSeconds = 1, Window = new Window { UntilSeconds = 3_600 } });
        FarmJob paint = Job();
        (paint.Licence, paint.ReadBytesPerFrame) = ("paint", 1);
        request.Jobs.AddRange([Job(), paint]);
        Assert.Empty((await Simulate(request)).Notes);
    }

    // Speeds do what they say where their class is there: at half the speed the job takes twice as long, and nothing is said.
    [Fact]
    public async Task SimulateFarm_SpeedOfAnAbsentClass_ChangesNothingButTheNotes()
    {
        FarmResult[] results = new FarmResult[3];
        string[] classes = ["pull", "push", "pull"];
        for (int i = 0; i < 3; i++)
        {
            SimulateFarmRequest request = new() { Replications = 1, Farm = new() };
            request.Farm.NodeClasses.Add(new NodeClass { Label = "node", Count = 1 });
            request.Jobs.Add(new FarmJob { JobClass = "pull", Frames = 10, SecondsPerFrame = 1 });
            if (i > 0)
            {
                request.Farm.NodeClasses[0].SpeedByJobClass.Add(classes[i], 0.5);
            }

            results[i] = await Simulate(request);
        }

        Assert.Equal([10.0, 10, 20], results.Select(r => r.FinishP50Seconds));
        Assert.Equal([0, 1, 0], results.Select(r => r.Notes.Count));
    }

    [Fact]
    public async Task SimulateFarm_VeryManyMisspeltKeys_AreCounted()
    {
        SimulateFarmRequest request = new() { Replications = 1, Farm = new() };
        request.Farm.NodeClasses.Add(new NodeClass { Label = "node", Count = 1 });
        request.Jobs.Add(new FarmJob { Frames = 1, SecondsPerFrame = 1 });
        for (int i = 0; i < 50; i++)
        {
            request.Farm.NodeClasses[0].SpeedByJobClass.Add($"class {i:00}", 1);
        }

        FarmResult result = await Simulate(request);
        Assert.Equal(33, result.Notes.Count);
        Assert.EndsWith("no job is of that class; no job names a job class", result.Notes[0], StringComparison.Ordinal);
        Assert.Equal("and 18 more of the kind", result.Notes[^1]);
    }

    [Theory]
    [InlineData("farm.sharing")]
    [InlineData("farm.nights")]
    [InlineData("farm.link_bytes_per_second")]
    public async Task SizeFarm_WhatCouldOnlyBeAnOversight_IsRefused(string field)
    {
        SizeFarmRequest request = new() { Replications = 1, DueSeconds = 100, Farm = new() };
        request.Farm.NodeClasses.Add(new NodeClass { Label = "node", Count = 1 });
        request.Jobs.Add(Job());
        request.Jobs[0].Licence = string.Empty;
        switch (field)
        {
            case "farm.sharing":
                request.Farm.ProjectWeights.Add("feature", 2);
                break;
            case "farm.nights":
                request.Farm.NightFailureProbability = 0.2;
                break;
            default:
                request.Farm.LinkBytesPerSecond = 1e8;
                break;
        }

        using AsyncServerStreamingCall<SizeFarmResponse> call = suite.Clients.Farm.SizeFarm(request);
        ServiceCallException refused = await Assert.ThrowsAsync<ServiceCallException>(() => call.ResponseStream.MoveNext());
        Assert.Equal((StatusCode.InvalidArgument, field), (refused.StatusCode, Assert.Single(refused.Violations).Field));
    }

    private static Farm Farm()
    {
        Farm farm = new() { Sharing = SharingRule.Strict, StorageBytesPerSecond = 1e9, ProjectWeights = { ["feature"] = 2 }, Licences = { ["render"] = 1, ["paint"] = 1 } };
        farm.Nights.Add(new Window { FromSeconds = 0, UntilSeconds = 3_600 });
        farm.NodeClasses.Add(new NodeClass { Label = "node", Count = 2, SlowFactorHigh = 2, MeanDownSeconds = 60, SpeedByJobClass = { ["pull"] = 1, ["gone"] = 2 } });
        return farm;
    }

    private static FarmJob Job() => new() { Label = "pull", JobClass = "pull", Project = "feature", Licence = "render", Frames = 10, SecondsPerFrame = 1 };

    private async Task<FarmResult> Simulate(SimulateFarmRequest request)
    {
        FarmResult? result = null;
        using AsyncServerStreamingCall<SimulateFarmResponse> call = suite.Clients.Farm.SimulateFarm(request);
        await foreach (SimulateFarmResponse part in call.ResponseStream.ReadAllAsync())
        {
            result = part.Result ?? result;
        }

        return result!;
    }
}
