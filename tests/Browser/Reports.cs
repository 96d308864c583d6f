using System.Collections.Concurrent;
using Xunit;

namespace PostPipeline.Browser.Tests;

/// <summary>Our notebooks run without a screen by the command, each once: the report and the executed notebook.</summary>
public sealed class Reports : IAsyncLifetime
{
    // Fewer draws and less time for the planner than people get: nothing that is asserted hangs on them.
    private static readonly Dictionary<string, string[]> Values = new()
    {
        ["compare"] = ["-p", "draws=100"],
        ["slate"] = ["-p", "draws=40", "-p", "seconds=1"],
    };

    private readonly string folder = Directory.CreateTempSubdirectory("postpipeline-reports-").FullName;
    private readonly ConcurrentDictionary<string, Lazy<Task>> runs = new();

    /// <summary>The report and the executed notebook; the command ended without an error.</summary>
    public async Task<(string Html, string Notebook)> OfAsync(string notebook)
    {
        (string html, string executed) = (Path.Combine(folder, notebook + ".html"), Path.Combine(folder, notebook + ".ipynb"));
        await runs.GetOrAdd(notebook, name => new(() => Command.RunAsync(
            ["run", name, .. Values.GetValueOrDefault(name, []), "--to", html, "--to", executed, "--data", Path.Combine(folder, "data")]))).Value;
        return (html, executed);
    }

    public Task InitializeAsync() => Task.CompletedTask;

    public Task DisposeAsync()
    {
        Directory.Delete(folder, recursive: true);
        return Task.CompletedTask;
    }
}
