using System.Diagnostics;
using PostPipeline.Testing;

namespace PostPipeline.Services.Tests.Hosting;

/// <summary>A process of this checkout, ended by its own id when the test ends.</summary>
internal sealed class ChildProcess : IDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(60);

    private readonly Process process;

    private ChildProcess(Process process) => this.process = process;

    /// <summary>The configuration that these tests were built in.</summary>
    public static string Configuration { get; } = Path.GetFileName(Path.GetDirectoryName(AppContext.BaseDirectory.TrimEnd('/')))!;

    public int Id => process.Id;

    public StreamWriter Input => process.StandardInput;

    /// <summary>Starts a built program.</summary>
    /// <param name="project">The project's folder from the root.</param>
    /// <param name="program">The program's file name without extension.</param>
    /// <param name="arguments">Its arguments.</param>
    /// <param name="environment">Further variables.</param>
    public static ChildProcess Start(string project, string program, string[] arguments, Dictionary<string, string>? environment = null) =>
        StartFile(Path.Combine(Outside.Root, project, "bin", Configuration, "net10.0", $"{program}.dll"), arguments, environment);

    /// <summary>Starts a program by its file.</summary>
    public static ChildProcess StartFile(string file, string[] arguments, Dictionary<string, string>? environment = null)
    {
        ProcessStartInfo start = new("dotnet", ["exec", file, .. arguments])
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        foreach ((string name, string value) in environment ?? [])
        {
            start.Environment[name] = value;
        }

        return new(Process.Start(start)!);
    }

    /// <summary>Reads stdout until a line holds a text.</summary>
    public async Task<string> LineAsync(string text)
    {
        using CancellationTokenSource source = new(Patience);
        while (await process.StandardOutput.ReadLineAsync(source.Token) is { } line)
        {
            if (line.Contains(text, StringComparison.Ordinal))
            {
                return line;
            }
        }

        throw new InvalidOperationException($"The process ended without '{text}': {await process.StandardError.ReadToEndAsync(source.Token)}");
    }

    /// <summary>Waits for the end; gives exit code, stdout and stderr.</summary>
    public async Task<(int ExitCode, string Output, string Error)> EndAsync()
    {
        using CancellationTokenSource source = new(Patience);
        Task<string> output = process.StandardOutput.ReadToEndAsync(source.Token);
        Task<string> error = process.StandardError.ReadToEndAsync(source.Token);
        await process.WaitForExitAsync(source.Token);
        return (process.ExitCode, await output, await error);
    }

    public void Dispose()
    {
        if (!process.HasExited)
        {
            process.Kill(entireProcessTree: true);
        }

        process.Dispose();
    }
}
