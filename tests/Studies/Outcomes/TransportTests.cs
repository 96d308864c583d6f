using System.Diagnostics;
using PostPipeline.Client;
using PostPipeline.Embedded;
using PostPipeline.Slates.Files;
using PostPipeline.Slates.Judging;
using PostPipeline.Slates.Options;
using PostPipeline.Slates.Planning;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Outcomes;
using PostPipeline.Studies.Preparing;
using PostPipeline.Studies.Printing;
using PostPipeline.Studies.Tests.Slates.Files;
using Xunit;

namespace PostPipeline.Studies.Tests.Outcomes;

/// <summary>The demonstration, end to end: embedded on two threads, and in the long tier over three separate processes on one.</summary>
public sealed class TransportTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("suite").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public async Task Demo_PrefersProxiesAndGivesTheSameBytesOverThreeProcessesInTheLongTier()
    {
        bool isLong = Environment.GetEnvironmentVariable("POSTPIPELINE_LONG") == "1";

        // Fewer replications than usual keep the test short; the rest is the demonstration as it is.
        Brief brief = BriefReader.Read("demo", Demo.BriefText().Replace("farm:\n", "farm:\n  replications: 20\n", StringComparison.Ordinal));
        string embedded;
        string slate;
        await using (EmbeddedSuite suite = EmbeddedSuite.InFolder(Path.Combine(folder, "embedded")))
        {
            Comparison comparison = Compare.Run(new StudyModel(await new Preparation(suite.Clients).PrepareAsync(brief)), 100, 2);
            Assert.Equal("proxy", comparison.Preferred);
            Assert.Contains(comparison.Of("native").Gates, g => g is { Name: "online capacity", State: GateState.Fails });
            Assert.Contains(comparison.Model.Study.Recordings, r => r.Kind == "burst" && Math.Abs(r.BurstSeconds - 8) < 0.01);
            embedded = ResultJson.Of(comparison).ToJsonString();
            slate = isLong ? await SlateOf(suite.Clients, 2) : string.Empty;
        }

        // A smaller brief and a smaller slate go both ways in every tier: SameResultTests.
        if (!isLong)
        {
            return;
        }

        using ServedHosts hosts = await ServedHosts.StartAsync(folder);
        await using SuiteConnection connection = await SuiteConnection.OpenAsync(hosts.Addresses);
        Comparison remote = Compare.Run(new StudyModel(await new Preparation(connection.Clients).PrepareAsync(brief)), 100, 1);
        Assert.Equal(embedded, ResultJson.Of(remote).ToJsonString());
        Assert.Equal(slate, await SlateOf(connection.Clients, 1));
    }

    [Theory]
    [InlineData(4, "cannot be written", "demo", "--out", "/proc/self/nothing")]
    [InlineData(2, "this is a folder", "compare", "/")]
    [InlineData(2, "the file is not there", "compare", "/nowhere.yaml")]
    [InlineData(2, "allowed is bytes-per-day", "compare", "/nowhere.yaml", "--why", "weather")]
    [InlineData(2, "allowed is 20 to", "demo", "--draws", "3")]
    public async Task CommandLine_WhatCannotBeUsed_SaysSoAndWritesNothing(int exitCode, string says, params string[] arguments)
    {
        using Process process = ServedHosts.Command(folder, arguments);
        process.StandardInput.Close();
        Task<string> error = process.StandardError.ReadToEndAsync();
        string output = await process.StandardOutput.ReadToEndAsync();
        await process.WaitForExitAsync();
        Assert.Equal(exitCode, process.ExitCode);
        Assert.Contains(says, await error, StringComparison.Ordinal);
        Assert.Empty(output);
    }

    // A slate from its briefs to its plan, and the plan run on draws.
    private static async Task<string> SlateOf(SuiteClients clients, int threads)
    {
        Slate slate = SlateSamples.Read(SlateSamples.TwoProjects);
        SlateEvaluation evaluation = SlateEvaluation.Of(slate, await SlateEvaluation.PrepareAsync(slate, new Preparation(clients)), 40, threads: threads);
        SlateProblemBuilder builder = new(evaluation);
        SlatePlan plan = SlatePlanner.Plan(builder.Build(), new() { Seconds = 0.5, Workers = threads, Repeatable = true }).Plan!;
        return string.Join('\n', [.. plan.Projects.SelectMany(p => p.Stages.Select(s => $"{p.Project} {p.Pipeline} {s}")), .. plan.Levels.Select(l => $"{l}"), .. new PlanSimulation(evaluation, builder, plan).Run().Select(j => $"{j}")]);
    }
}
