using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Services.Tests.CommandLine;

/// <summary>What a page shows under a command is what the command prints.</summary>
public sealed class PageTests
{
    private const string Prompt = "$ postpipeline ";

    [Theory]
    [InlineData("timecode.md")]
    public async Task Page_EveryCommand_PrintsWhatStandsUnderIt(string page)
    {
        string[] lines = await File.ReadAllLinesAsync(Path.Combine(Outside.Root, "docs", page));
        int commands = 0;
        for (int i = 0; i < lines.Length; i++)
        {
            if (!lines[i].StartsWith(Prompt, StringComparison.Ordinal))
            {
                continue;
            }

            commands++;
            string[] shown = [.. lines.Skip(i + 1).TakeWhile(line => !line.StartsWith("```", StringComparison.Ordinal))];
            using StringWriter output = new();
            await PostPipeline.Cli.Frame.CommandLine.RunAsync(Words(lines[i][Prompt.Length..]), output, output, CancellationToken.None);
            string[] printed = [.. output.ToString().Split('\n').Select(line => line.TrimEnd()).Where(line => line.Length > 0)];
            Assert.Equal([lines[i], .. shown], [lines[i], .. printed]);
        }

        Assert.NotEqual(0, commands);
    }

    // Words as a shell splits them, with double quotes only.
    private static string[] Words(string line) =>
        [.. line.Split('"').SelectMany((part, i) => i % 2 == 1 ? [part] : part.Split(' ', StringSplitOptions.RemoveEmptyEntries))];
}
