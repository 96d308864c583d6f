using Microsoft.Playwright;
using Xunit;

namespace PostPipeline.Browser.Tests;

/// <summary>The comparison as a live page: the largest of ours, with a cell that takes long.</summary>
[Collection(LiveCollection.Name)]
public sealed class CompareLivePageTests(BrowserFixture browsers, LivePages live)
{
    private const string Settled = "() => document.documentElement.dataset.settled === '1'";

    // A narrow screen leaves the chart at least half of its width, no axis label is cut at the edge, and no name of a row runs into the next.
    [SkippableFact]
    public async Task Charts_OnANarrowScreen_KeepRoomForWhatTheyShow()
    {
        await using Watched watched = await live.OpenAsync(browsers, "compare", width: 390);
        await watched.EveryChartIsDrawnAsync(5);
        await watched.Page.EvaluateAsync("() => window.postpipelinePage.draw()");
        double[] shares = await watched.Page.EvaluateAsync<double[]>("() => [...document.querySelectorAll('.pp-plot')].map(p => p._fullLayout.xaxis._length / p.clientWidth)");
        Assert.All(shares, share => Assert.InRange(share, 0.5, 1));
        string[] cut = await watched.Page.EvaluateAsync<string[]>("""
            () => [...document.querySelectorAll('.pp-plot')].flatMap(p => { const box = p.getBoundingClientRect();
              return [...p.querySelectorAll('.ytick text, .xtick text')].filter(t => { const r = t.getBoundingClientRect(); return r.width > 0 && (r.left < box.left - 1 || r.right > box.right + 1); }).map(t => t.textContent); })
            """);
        Assert.True(cut.Length == 0, "cut at the edge: " + string.Join(" | ", cut));
        string[] close = await watched.Page.EvaluateAsync<string[]>("""
            () => [...document.querySelectorAll('.pp-plot')].flatMap(p => { const rows = [...p.querySelectorAll('.ytick text')].map(t => [t.getBoundingClientRect(), t.textContent]).sort((a, b) => a[0].top - b[0].top);
              return rows.slice(1).filter((r, i) => r[0].top < rows[i][0].bottom - 2).map((r, i) => r[1]); })
            """);
        Assert.True(close.Length == 0, "runs into the row above: " + string.Join(" | ", close));
        Assert.Empty(watched.Errors);
    }

    [SkippableFact]
    public async Task Slider_MovedByKeyboard_ChangesChartAndTable()
    {
        await using Watched watched = await live.OpenAsync(browsers, "compare");
        IPage page = watched.Page;
        const string Shown = "() => JSON.stringify(document.querySelector('#main .pp-plot').ppFigure) + document.querySelector('#main table').textContent";
        string before = await page.EvaluateAsync<string>(Shown);
        await page.Locator("#in-material").FocusAsync();
        await page.Keyboard.PressAsync("ArrowRight");
        await page.WaitForFunctionAsync("() => location.search.includes('material=105') && document.documentElement.dataset.settled === '1'");
        Assert.NotEqual(before, await page.EvaluateAsync<string>(Shown));
        watched.IsQuiet();
        await watched.PartAsync("live-compare");
    }

    [SkippableFact]
    public async Task SlowCell_ShowsThatItComputesAndANewerChangeTakesOver()
    {
        await using Watched watched = await live.OpenAsync(browsers, "compare");
        IPage page = watched.Page;
        ILocator draws = page.Locator("[data-parameter=draws] input[type=number]");
        await draws.FillAsync("40000");
        await page.Keyboard.PressAsync("Enter");
        await page.WaitForFunctionAsync("() => document.querySelector('.state').textContent.startsWith('Computing') && document.querySelector('#main .cell.busy')");
        await draws.FillAsync("120");
        await page.Keyboard.PressAsync("Enter");
        await page.WaitForFunctionAsync("() => location.search.includes('draws=120') && document.documentElement.dataset.settled === '1'");
        Assert.Equal(0, await page.Locator("#main .cell.busy").CountAsync());
        Assert.Contains("120 draws", await page.Locator("#main").TextContentAsync(), StringComparison.Ordinal);
        await page.Locator("[data-live=reset]").ClickAsync();
        await page.WaitForFunctionAsync(Settled);
    }

    [SkippableFact]
    public async Task Table_Copied_IsTextWithATabBetweenColumns()
    {
        await using Watched watched = await live.OpenAsync(browsers, "compare");
        IPage page = watched.Page;
        await page.EvaluateAsync("() => { window.saved = ''; Object.defineProperty(navigator, 'clipboard', { value: { writeText: t => { window.saved = t; return Promise.resolve(); } } }); }");
        await page.Locator("#main .table [data-do=copy]:visible").First.ClickAsync();
        await page.WaitForFunctionAsync("() => window.saved !== ''");
        string[] lines = (await page.EvaluateAsync<string>("() => window.saved")).Split('\n');
        Assert.StartsWith("Pipeline\tAdmissible\tDelivery P50\t", lines[0], StringComparison.Ordinal);
        Assert.Equal(["native", "transcode", "proxy"], lines[1..].Select(line => line.Split('\t')[0]));
        Assert.All(lines, line => Assert.Equal(lines[0].Count(c => c == '\t'), line.Count(c => c == '\t')));
    }
}
