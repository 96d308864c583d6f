using Microsoft.Playwright;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Browser.Tests;

/// <summary>Clips named to do harm, in a real browser and in what it saves.</summary>
[Collection(ReportCollection.Name)]
public sealed class HostileNamesTests(BrowserFixture browsers)
{
    private const string Notebook = """
        {"nbformat":4,"nbformat_minor":5,"metadata":{},"cells":[
         {"cell_type":"markdown","id":"a","metadata":{},"source":"# What is a clip called?"},
         {"cell_type":"code","id":"b","metadata":{},"execution_count":null,"outputs":[],"source":"var bad = \"<img src=x onerror=document.title='done'>\";\nShow(Chart.TimecodeStrip(bad, [new(bad, bad, 0, 240, bad, bad)]));\nShow(Chart.Lanes(bad, \"h\", [new(bad, bad, 0, 1)], bad));\nnew NumberTable(bad, [\"Clip\", \"Size (GB)\"], [[\"=1+1\", 2.0], [bad, 3.0]])"}]}
        """;

    private const string Moving = """
        {"nbformat":4,"nbformat_minor":5,"metadata":{},"cells":[
         {"cell_type":"markdown","id":"a","metadata":{},"source":"# What is a clip called?"},
         {"cell_type":"code","id":"p","metadata":{"tags":["parameters"]},"execution_count":null,"outputs":[],"source":"var n = Parameter.Number(\"n\", 1, min: 1, max: 3, step: 1, unit: \"<img src=x onerror=document.title='done'>\", label: \"<img src=x onerror=document.title='done'>\");"},
         {"cell_type":"code","id":"b","metadata":{},"execution_count":null,"outputs":[],"source":"var bad = $\"<img src=x onerror=document.title='done'>{n}\";\nShow(Chart.TimecodeStrip(bad, [new(bad, bad, 0, 240, bad, bad)]));\nShow(bad);\nnew NumberTable(bad, [\"Clip\"], [[\"=1+1\"], [bad]])"}]}
        """;

    // What a cell makes after a move reaches the page as markup over the socket; a handout carries it for every state.
    [SkippableFact]
    public async Task LivePageAndHandout_WithHostileNames_DoNothing()
    {
        Outside.Need(BrowserFixture.Executable is not null, "no Chromium is installed");
        string folder = Directory.CreateTempSubdirectory("postpipeline-hostile-").FullName;
        try
        {
            string notebook = Path.Combine(folder, "moving.ipynb");
            await File.WriteAllTextAsync(notebook, Moving);
            await using (ServedPage served = ServedPage.Start(notebook))
            {
                await IsHarmlessAsync(await served.OpenAsync(browsers, "n=2"), "2");
            }

            await Command.RunAsync("handout", notebook, "--vary", "n", "--steps", "3", "--seed", "7", "--out", folder, "--data", Path.Combine(folder, "data"));
            await using Watched handout = await browsers.OpenFileAsync(Path.Combine(folder, "handout.html"));
            await handout.Page.WaitForSelectorAsync("html[data-settled='1']");
            await handout.Page.Locator("#in-n").FocusAsync();
            await handout.Page.Keyboard.PressAsync("End");
            await IsHarmlessAsync(handout, "3");
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static async Task IsHarmlessAsync(Watched watched, string state)
    {
        await watched.Page.WaitForFunctionAsync("state => [...document.querySelectorAll('#main td')].some(cell => cell.textContent.endsWith('>' + state))", state);
        await watched.EveryChartIsDrawnAsync(1);
        await watched.Page.Locator(".pp-plot").First.HoverAsync();
        Assert.StartsWith("What is a clip called?", await watched.Page.TitleAsync(), StringComparison.Ordinal);
        Assert.Equal(0, await watched.Page.Locator("img").CountAsync());
        watched.IsQuiet();
    }

    [SkippableFact]
    public async Task Report_WithHostileNames_DoesNothingAndSavesThemAsText()
    {
        Outside.Need(BrowserFixture.Executable is not null, "no Chromium is installed");
        string folder = Directory.CreateTempSubdirectory("postpipeline-hostile-").FullName;
        try
        {
            string file = Path.Combine(folder, "report.html");
            await File.WriteAllTextAsync(Path.Combine(folder, "clips.ipynb"), Notebook);
            await Command.RunAsync("run", Path.Combine(folder, "clips.ipynb"), "--to", file, "--data", Path.Combine(folder, "data"));
            await using Watched watched = await browsers.OpenFileAsync(file);
            IPage page = watched.Page;
            await watched.EveryChartIsDrawnAsync(2);
            await page.Locator("[data-do=step]").First.ClickAsync();
            await page.Locator("[data-do=binary]").ClickAsync();
            foreach (ILocator plot in await page.Locator(".pp-plot").AllAsync())
            {
                await plot.HoverAsync();
            }

            Assert.Equal("What is a clip called?", await page.TitleAsync());
            Assert.Equal(0, await page.Locator("img").CountAsync());
            Assert.Contains("<img src=x", string.Join("|", await page.Locator("#main td").AllTextContentsAsync()), StringComparison.Ordinal);

            await page.EvaluateAsync("() => { window.saved = ''; navigator.clipboard && Object.defineProperty(navigator, 'clipboard', { value: { writeText: t => { window.saved = t; return Promise.resolve(); } } }); }");
            ILocator table = page.Locator("section.cell > .outputs > .table").First;
            IDownload download = await page.RunAndWaitForDownloadAsync(() => table.Locator("[data-do=csv]").ClickAsync());
            Assert.Contains("\"'=1+1\",2", await File.ReadAllTextAsync(await download.PathAsync()), StringComparison.Ordinal);
            await table.Locator("[data-do=copy]").ClickAsync();
            await page.WaitForFunctionAsync("() => document.querySelector('section.cell > .outputs > .table .told').textContent !== ''");
            watched.IsQuiet();
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
