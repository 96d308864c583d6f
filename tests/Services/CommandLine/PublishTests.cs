using System.Diagnostics;
using System.Text.Json;
using PostPipeline.Services.Tests.Hosting;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Services.Tests.CommandLine;

/// <summary>The command as people get it: published to a folder, run from there.</summary>
public sealed class PublishTests
{
    [Fact]
    public async Task Publish_FrameworkDependent_RunsFromItsFolder()
    {
        string folder = Directory.CreateTempSubdirectory("postpipeline-publish-").FullName;
        try
        {
            using Process publish = Process.Start(new ProcessStartInfo("dotnet",
                [
                    "publish", Path.Combine(Outside.Root, "clients", "PostPipeline.Cli"),
                    "-c", ChildProcess.Configuration, "--no-build", "--nologo", "-v", "q", "-o", folder,
                ])
            { RedirectStandardOutput = true })!;
            string output = await publish.StandardOutput.ReadToEndAsync();
            await publish.WaitForExitAsync();
            Assert.True(publish.ExitCode == 0, output);

            using ChildProcess command = ChildProcess.StartFile(Path.Combine(folder, "postpipeline.dll"), ["about", "--json"]);
            (int exitCode, string answer, string error) = await command.EndAsync();
            Assert.Equal((0, string.Empty), (exitCode, error));
            using JsonDocument json = JsonDocument.Parse(answer);
            Assert.Equal("postpipeline.about/1", json.RootElement.GetProperty("schema").GetString());
            Assert.Equal("embedded", json.RootElement.GetProperty("run").GetProperty("services").GetString());
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
