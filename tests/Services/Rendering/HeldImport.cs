using Grpc.Core;
using Grpc.Net.Client;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Services.Tests.Hosting;

namespace PostPipeline.Services.Tests.Rendering;

/// <summary>A rendering service in a process of its own that is in the middle of an import, for as long as the test wants.</summary>
internal sealed class HeldImport : IDisposable
{
    private const int Rows = 1_000;

    private readonly ChildProcess process;
    private readonly GrpcChannel channel;
    private readonly AsyncClientStreamingCall<ImportBenchmarksRequest, ImportBenchmarksResponse> call;

    private HeldImport(ChildProcess process, GrpcChannel channel)
    {
        this.process = process;
        this.channel = channel;
        call = new BenchmarkService.BenchmarkServiceClient(channel).ImportBenchmarks();
    }

    public int ProcessId => process.Id;

    /// <summary>Starts the process and sends it rows, but not their end.</summary>
    /// <param name="data">The data folder.</param>
    public static async Task<HeldImport> StartAsync(string data)
    {
        ChildProcess process = ChildProcess.Start("services/PostPipeline.Rendering.Service", "PostPipeline.Rendering.Service", ["--port", "0", "--data", data]);
        HeldImport held = new(process, GrpcChannel.ForAddress((await process.LineAsync("rendering listens on ")).Split(' ')[^1]));
        ImportBenchmarksRequest header = new() { Header = new() { Name = "held", TargetColumn = "seconds", FamilyColumn = "project" } };
        header.Header.Columns.AddRange(["project", "cores", "seconds"]);
        header.Header.NumberColumns.Add("cores");
        await held.call.RequestStream.WriteAsync(header);
        ImportBenchmarksRequest rows = new() { Rows = new() };
        rows.Rows.Rows.AddRange(Enumerable.Range(0, Rows).Select(i => new BenchmarkRow { Cells = { $"project {i % 40}", $"{1 + (i % 64)}", $"{1 + (i % 97)}" } }));
        await held.call.RequestStream.WriteAsync(rows);

        // The process has begun once its unfinished set is there, and then that stays until it is killed.
        string sets = Path.Combine(data, "sets");
        while (!Directory.Exists(sets) || !Directory.EnumerateDirectories(sets, "unfinished-*").Any())
        {
            await Task.Delay(10);
        }

        return held;
    }

    /// <summary>Kills the process.</summary>
    public void Dispose()
    {
        process.Dispose();
        call.Dispose();
        channel.Dispose();
    }
}
