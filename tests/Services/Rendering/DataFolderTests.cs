using Grpc.Core;
using Microsoft.Extensions.DependencyInjection;
using PostPipeline.Client;
using PostPipeline.Embedded;
using PostPipeline.Rendering.Service;
using PostPipeline.Rendering.Service.Storage;
using PostPipeline.RenderTimes;
using Xunit;

namespace PostPipeline.Services.Tests.Rendering;

/// <summary>A data folder has one writer at a time, and a format that older programs leave alone.</summary>
public sealed class DataFolderTests : IDisposable
{
    private static readonly TimeSpan Impatience = TimeSpan.FromMilliseconds(200);

    private readonly string folder = Directory.CreateTempSubdirectory("postpipeline-folder").FullName;

    private string Data => Path.Combine(folder, "data");

    public void Dispose() => Directory.Delete(folder, recursive: true);

    // A real second process, in the middle of its import while it holds the folder.
    [Fact]
    public async Task Write_AnotherProcessIsWriting_IsRefusedWithItsNumber()
    {
        using (HeldImport writer = await HeldImport.StartAsync(Data))
        {
            FolderBenchmarkStore store = new(Data, Impatience);
            StoreInUseException busy = Assert.Throws<StoreInUseException>(() => store.Delete(new string('0', 64)));
            Assert.Equal(writer.ProcessId, busy.ProcessId);
            Assert.Equal($"The data folder is in use by process {writer.ProcessId}.", busy.Message);

            await using EmbeddedCallInvoker invoker = new([RenderingHost.Definition with
            {
                Register = (services, _) => services.AddSingleton<IBenchmarkStore>(store).AddSingleton(new TrainingQueue()),
            }]);
            ServiceCallException refused = await Assert.ThrowsAsync<ServiceCallException>(() => SmallSet.Import(SuiteClients.Over(invoker), seconds: 1));
            Assert.Equal(StatusCode.ResourceExhausted, refused.StatusCode);
            Assert.Equal(TimeSpan.FromSeconds(5), refused.RetryAfter);
            Assert.Contains($"in use by process {writer.ProcessId}", refused.Message, StringComparison.Ordinal);

            // Reading needs no turn.
            Assert.Empty(store.List());
        }

        // The lock ends with its process, however that ended.
        Assert.False(new FolderBenchmarkStore(Data).Delete(new string('0', 64)));
    }

    [Theory]
    [InlineData("2")]
    [InlineData("900")]
    [InlineData("soon")]
    public void Open_NewerFormat_IsRefusedAndNothingIsTouched(string format)
    {
        Directory.CreateDirectory(Data);
        string file = Path.Combine(Data, "format");
        File.WriteAllText(file, format);
        InvalidDataException refused = Assert.Throws<InvalidDataException>(() => new FolderBenchmarkStore(Data));
        Assert.Contains($"has format {format}; this version reads formats 1 to 1", refused.Message, StringComparison.Ordinal);
        Assert.Equal(format, File.ReadAllText(file));
    }

    [Fact]
    public async Task Run_NewerFormat_IsAMessageAndNotAFault()
    {
        Directory.CreateDirectory(Data);
        await File.WriteAllTextAsync(Path.Combine(Data, "format"), "2");
        StringWriter output = new();
        StringWriter error = new();
        int exitCode = await PostPipeline.Cli.Frame.CommandLine.RunAsync(["benchmarks", "list", "--data", Data], output, error, CancellationToken.None);
        Assert.NotEqual(0, exitCode);
        Assert.NotEqual(PostPipeline.Cli.Frame.ExitCode.Fault, exitCode);
        Assert.Contains("has format 2", error.ToString(), StringComparison.Ordinal);
    }
}
