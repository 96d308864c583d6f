using System.Collections.Concurrent;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Browser.Tests;

/// <summary>The live pages of our notebooks, each served by a command that is started when it is first asked for.</summary>
public sealed class LivePages : IAsyncLifetime
{
    private readonly ConcurrentDictionary<string, ServedPage> pages = new();

    private readonly string folder = Directory.CreateTempSubdirectory("postpipeline-slate-").FullName;

    /// <summary>The page of a notebook; its command is starting.</summary>
    public ServedPage Of(string notebook) => pages.GetOrAdd(notebook, name => ServedPage.Start(name, ValuesOf(name)));

    /// <summary>The page in the browser, computed and drawn; see <see cref="ServedPage.OpenAsync"/>.</summary>
    internal Task<Watched> OpenAsync(BrowserFixture browsers, string notebook, string values = "", int width = 1280) => Of(notebook).OpenAsync(browsers, values, width);

    /// <summary>Ends the command of a notebook that no later test asks for.</summary>
    public async Task EndAsync(string notebook)
    {
        if (pages.TryRemove(notebook, out ServedPage? page))
        {
            await page.CloseTabAsync();
            await page.DisposeAsync();
        }
    }

    public Task InitializeAsync() => Task.CompletedTask;

    public async Task DisposeAsync()
    {
        await Task.WhenAll(pages.Values.Select(page => page.DisposeAsync().AsTask()));
        Directory.Delete(folder, recursive: true);
    }

    // Fewer draws than people get, and half of the slate: nothing that is asserted hangs on them. The report is of the whole slate.
    private string[] ValuesOf(string notebook) => notebook switch
    {
        "compare" => ["-p", "draws=100"],
        "slate" => ["-p", "draws=40", "-p", "seconds=1", "-p", "slate=" + HalfASlate()],
        _ => [],
    };

    private string HalfASlate()
    {
        foreach (string file in Directory.GetFiles(Path.Combine(Outside.Root, "notebooks", "demo", "slate")))
        {
            File.Copy(file, Path.Combine(folder, Path.GetFileName(file)));
        }

        string slate = Path.Combine(folder, "slate.yaml");
        string[] away = ["heron.yaml", "kiln.yaml", "ferry.yaml"];
        File.WriteAllLines(slate, File.ReadAllLines(slate).Where(line => !away.Any(line.Contains)));
        return slate;
    }
}
