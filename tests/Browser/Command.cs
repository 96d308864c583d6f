using System.Diagnostics;

namespace PostPipeline.Browser.Tests;

/// <summary>The command as people start it.</summary>
internal static class Command
{
    public static Process Start(params string[] arguments)
    {
        ProcessStartInfo start = new(Environment.GetEnvironmentVariable("DOTNET_HOST_PATH") ?? "dotnet") { RedirectStandardOutput = true, RedirectStandardError = true };
        foreach (string argument in arguments.Prepend(Path.Combine(AppContext.BaseDirectory, "postpipeline.dll")).Prepend("exec"))
        {
            start.ArgumentList.Add(argument);
        }

        return Process.Start(start)!;
    }

    public static async Task RunAsync(params string[] arguments)
    {
        using Process process = Start(arguments);
        Task<string> output = process.StandardOutput.ReadToEndAsync();
        string errors = await process.StandardError.ReadToEndAsync();
        await output;
        await process.WaitForExitAsync();
        if (process.ExitCode != 0)
        {
            throw new InvalidOperationException($"{string.Join(' ', arguments)} ended with {process.ExitCode}: {errors}");
        }
    }
}
