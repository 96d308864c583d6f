namespace PostPipeline.Services.Tests.CommandLine;

/// <summary>A command as somebody types it, run inside the test's own process.</summary>
internal static class Typed
{
    public static async Task<(int ExitCode, string Output, string Error)> RunAsync(params string[] arguments)
    {
        using StringWriter output = new();
        using StringWriter error = new();
        int exitCode = await PostPipeline.Cli.Frame.CommandLine.RunAsync(arguments, output, error, CancellationToken.None);
        return (exitCode, output.ToString(), error.ToString());
    }
}
