using PostPipeline.Cli.Frame;
using Xunit;
using static PostPipeline.Services.Tests.Timecode.ConformSamples;

namespace PostPipeline.Services.Tests.CommandLine;

public sealed class ConformVerbTests
{
    [Fact]
    public async Task ConformAndPull_OneFoundOneNot_AnswerFromFiles()
    {
        string folder = Directory.CreateTempSubdirectory("conform-verbs-").FullName;
        try
        {
            string cut = Path.Combine(folder, "cut.edl");
            string clips = Path.Combine(folder, "clips.csv");
            await File.WriteAllTextAsync(cut, List);
            await File.WriteAllTextAsync(clips, Inventory.Replace("name,", "Clip,", StringComparison.Ordinal).Replace(",rate", ",Speed", StringComparison.Ordinal).Replace(",24,", ",24.00,", StringComparison.Ordinal));
            (int code, string output, string error) = await Typed.RunAsync("conform", cut, "--inventory", clips, "--rate", "24");
            Assert.Equal(ExitCode.BadInput, code);
            Assert.Contains("clips.csv:1:1: name: no column gives name", error, StringComparison.Ordinal);

            (code, output, error) = await Typed.RunAsync("conform", cut, "--inventory", clips, "--rate", "24", "--map", "Clip=name", "--map", "Speed=rate", "--word", "rate:24.00=24", "--json");
            Assert.Equal(ExitCode.No, code);
            Assert.Contains("\"schema\": \"postpipeline.conform/1\"", output, StringComparison.Ordinal);
            Assert.Contains("\"events_for_person\": 1", output, StringComparison.Ordinal);

            // The mapping is remembered.
            string target = Path.Combine(folder, "pull");
            (code, output, _) = await Typed.RunAsync("pull", cut, "--inventory", clips, "--rate", "24", "--handles", "8", "--out", target);
            Assert.Equal(ExitCode.No, code);
            Assert.Contains("as planned", output, StringComparison.Ordinal);
            Assert.Equal(["pull-24.edl", "pull.csv", "pull.otio"], Directory.GetFiles(target).Select(Path.GetFileName).Order(StringComparer.Ordinal));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
