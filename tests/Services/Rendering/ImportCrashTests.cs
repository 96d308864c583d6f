using System.Diagnostics;
using System.Text;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Embedded;
using PostPipeline.Services.Tests.Hosting;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Services.Tests.Rendering;

/// <summary>A process that is killed while it imports leaves a set wholly there or wholly absent.</summary>
public sealed class ImportCrashTests : IDisposable
{
    private const int Rows = 150_000;

    private readonly string folder = Directory.CreateTempSubdirectory("postpipeline-crash").FullName;

    private string Sets => Path.Combine(folder, "data", "sets");

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public async Task Kill_WhileRowsStreamIn_LeavesNothingAndTheNextImportCleansUp()
    {
        (await HeldImport.StartAsync(Path.Combine(folder, "data"))).Dispose();
        await using EmbeddedSuite suite = Open();
        Assert.Empty((await suite.Clients.Benchmarks.ListBenchmarksAsync(new())).Sets);
        Assert.NotEmpty(Entries());

        // The lock died with its process; the next writer finds the leftover and removes it.
        await Import(suite);
        Assert.Single((await suite.Clients.Benchmarks.ListBenchmarksAsync(new())).Sets);
        Assert.Single(Entries());
    }

    [Fact]
    public async Task Kill_AfterTheRename_LeavesTheWholeSet()
    {
        await KillWhen(() => Entries().Any(e => Path.GetFileName(e).Length == 64));
        await using EmbeddedSuite suite = Open();
        BenchmarkSetSummary set = Assert.Single((await suite.Clients.Benchmarks.ListBenchmarksAsync(new())).Sets);
        Assert.Equal(Rows, set.Rows);
        Assert.Equal(Rows, File.ReadLines(Path.Combine(Sets, set.SetId, "rows.jsonl")).Count());
    }

    private string[] Entries() => Directory.Exists(Sets) ? Directory.GetDirectories(Sets) : [];

    private EmbeddedSuite Open() => new(new() { Settings = new() { DataFolder = Path.Combine(folder, "data") } });

    private async Task KillWhen(Func<bool> reached)
    {
        string rows = Path.Combine(folder, "rows.csv");
        StringBuilder text = new("project,seconds_per_frame,cores\n");
        for (int i = 0; i < Rows; i++)
        {
            text.Append("project ").Append(i % 40).Append(',').Append(1 + (i % 97)).Append(',').Append(1 + (i % 64)).Append('\n');
        }

        await File.WriteAllTextAsync(rows, text.ToString());
        string program = Path.Combine(Outside.Root, "clients", "PostPipeline.Cli", "bin", ChildProcess.Configuration, "net10.0", "postpipeline.dll");
        using Process process = Process.Start(new ProcessStartInfo(
            "dotnet", ["exec", program, "train", rows, "--numbers", "cores", "--data", Path.Combine(folder, "data"), "--quiet"])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        })!;
        Stopwatch watch = Stopwatch.StartNew();
        while (!reached() && !process.HasExited && watch.Elapsed < TimeSpan.FromSeconds(60))
        {
            await Task.Delay(2);
        }

        Assert.False(process.HasExited, process.HasExited ? await process.StandardError.ReadToEndAsync() : string.Empty);
        process.Kill();
        await process.WaitForExitAsync();
        Assert.True(reached());
    }

    private static async Task Import(EmbeddedSuite suite)
    {
        BenchmarkHeader header = new() { Name = "small", TargetColumn = "seconds", FamilyColumn = "project" };
        header.Columns.AddRange(["project", "cores", "seconds"]);
        header.NumberColumns.Add("cores");
        using var call = suite.Clients.Benchmarks.ImportBenchmarks();
        await call.RequestStream.WriteAsync(new() { Header = header });
        BenchmarkRows rows = new();
        rows.Rows.Add(new BenchmarkRow { Cells = { "a", "2", "1" } });
        await call.RequestStream.WriteAsync(new() { Rows = rows });
        await call.RequestStream.CompleteAsync();
        await call.ResponseAsync;
    }
}
