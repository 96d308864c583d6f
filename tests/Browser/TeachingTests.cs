using Microsoft.Playwright;
using Xunit;

namespace PostPipeline.Browser.Tests;

/// <summary>What a trainer does with a live page in front of a class.</summary>
[Collection(LiveCollection.Name)]
public sealed class TeachingTests(BrowserFixture browsers, LivePages live)
{
    private const string Settled = "() => document.documentElement.dataset.settled === '1'";

    [SkippableFact]
    public async Task Answer_IsHiddenUntilRevealedAndAGuessStandsBeside()
    {
        await using Watched watched = await live.OpenAsync(browsers, "recording-and-bursts");
        IPage page = watched.Page;
        ILocator answer = page.Locator("details.answer").First;
        Assert.False(await answer.Locator(".pp-plot").First.IsVisibleAsync());
        await page.Locator(".guess input").First.FillAsync("at the press");
        await answer.Locator("summary").First.ClickAsync();
        await page.WaitForFunctionAsync("() => { const p = document.querySelector('details.answer .pp-plot'); return p.dataset.drawn && p.querySelector('svg.main-svg') && p.clientHeight > 0; }");
        Assert.Equal("at the press", await page.Locator(".guess input").First.InputValueAsync());

        // A change of the inputs leaves what was revealed and what was guessed.
        await page.Locator("#in-rate").FocusAsync();
        await page.Keyboard.PressAsync("ArrowRight");
        await page.WaitForFunctionAsync(Settled);
        Assert.True(await answer.Locator(".pp-plot").First.IsVisibleAsync());
        Assert.Equal("at the press", await page.Locator(".guess input").First.InputValueAsync());
    }

    [SkippableFact]
    public async Task Parts_SteppedThrough_StandAlone()
    {
        await using Watched watched = await live.OpenAsync(browsers, "recording-and-bursts");
        IPage page = watched.Page;
        const string Visible = "() => [...document.querySelectorAll('#main h1, #main h2')].filter(h => h.offsetParent !== null).map(h => h.textContent).join('|')";
        await page.Locator("[data-live=steps]").ClickAsync();
        Assert.Contains("Sustained or burst", await page.EvaluateAsync<string>(Visible), StringComparison.Ordinal);
        await page.Locator("[data-live=next]").ClickAsync();
        Assert.Equal("Can it be recorded?", await page.EvaluateAsync<string>(Visible));
        await page.Locator("[data-live=next]").ClickAsync();
        Assert.Equal("Why", await page.EvaluateAsync<string>(Visible));
        await page.Locator("[data-live=previous]").ClickAsync();
        Assert.Equal("Can it be recorded?", await page.EvaluateAsync<string>(Visible));
        await page.Locator("[data-live=steps]").ClickAsync();
        Assert.Contains("Conclusion", await page.EvaluateAsync<string>(Visible), StringComparison.Ordinal);
    }

    [SkippableFact]
    public async Task Type_MadeLarge_GrowsInTextAndCharts()
    {
        await using Watched watched = await live.OpenAsync(browsers, "recording-and-bursts");
        IPage page = watched.Page;
        const string Sizes = "() => [parseFloat(getComputedStyle(document.querySelector('.prose p')).fontSize), parseFloat(getComputedStyle(document.querySelector('.pp-plot .xtick text')).fontSize)]";
        double[] before = await page.EvaluateAsync<double[]>(Sizes);
        await page.Locator("[data-do=large]").ClickAsync();
        await page.WaitForFunctionAsync("was => parseFloat(getComputedStyle(document.querySelector('.pp-plot .xtick text')).fontSize) > was", before[1]);
        double[] after = await page.EvaluateAsync<double[]>(Sizes);
        Assert.True(after[0] >= before[0] * 1.3, $"{before[0]} to {after[0]} px");

        // Common practice, no source: from the back row letters are read that are a sixtieth of the picture's height or more; on a
        // projector of 1,080 lines that is 18 px. No text of page or chart is smaller.
        await page.SetViewportSizeAsync(1920, 1080);
        await page.EvaluateAsync("() => window.postpipelinePage.draw()");
        string[] small = await page.EvaluateAsync<string[]>("""
            () => [...document.querySelectorAll('#main p, #main td, #main th, #main figcaption, #main summary, #main .pp-plot text')]
              .filter(e => e.textContent.trim() && e.getClientRects().length && parseFloat(getComputedStyle(e).fontSize) < 18).map(e => parseFloat(getComputedStyle(e).fontSize) + ' ' + e.textContent.trim().slice(0, 40))
            """);
        Assert.True(small.Length == 0, "smaller than 18 px: " + string.Join("; ", small));
    }

    [SkippableFact]
    public async Task Formula_StandsWithTodaysNumbers()
    {
        await using Watched watched = await live.OpenAsync(browsers, "recording-and-bursts", "rate=240");
        IPage page = watched.Page;
        async Task<string> Tree() => await page.EvaluateAsync<string>("() => [...document.querySelectorAll('#main .derivation')].map(d => d.textContent).join(' ')");
        await page.WaitForFunctionAsync(Settled);
        Assert.Contains("240", await Tree(), StringComparison.Ordinal);
        await page.Locator("[data-parameter=rate] input[type=number]").FillAsync("237");
        await page.Keyboard.PressAsync("Enter");
        await page.WaitForFunctionAsync("() => location.search.includes('rate=237') && document.documentElement.dataset.settled === '1'");
        Assert.Contains("237", await Tree(), StringComparison.Ordinal);
    }

    // IEC 80000-13: 1 GiB = 2^30 B, 1 B = 8 bit. A buffer of 24 GB is 22.4 GiB, 192 Gb, 179 Gib.
    [SkippableFact]
    public async Task Units_Switched_ShowTheSameQuantityInChartTableAndText()
    {
        await using Watched watched = await live.OpenAsync(browsers, "recording-and-bursts", "buffer=24&rate=240");
        IPage page = watched.Page;
        await page.WaitForFunctionAsync(Settled);
        async Task<(string Axis, double Top, string Note, string Head)> Shown()
        {
            await page.EvaluateAsync("() => window.postpipelinePage.draw()");
            return (
                await page.EvaluateAsync<string>("() => document.querySelector('#main .pp-plot').layout.yaxis.title.text"),
                await page.EvaluateAsync<double>("() => Math.max(...document.querySelector('#main .pp-plot').data[0].y)"),
                await page.EvaluateAsync<string>("() => document.querySelector('#main .pp-plot').layout.annotations.map(a => a.text).join('|')"),
                await page.EvaluateAsync<string>("() => document.querySelector('#main .chart table thead').textContent"));
        }

        (string Axis, double Top, string Note, string Head) plain = await Shown();
        Assert.Equal("In the buffer (GB)", plain.Axis);
        Assert.Contains("buffer 24 GB", plain.Note, StringComparison.Ordinal);
        foreach ((string[] press, string unit, double factor, string note) in new (string[], string, double, string)[]
        {
            (["binary"], "GiB", 1e9 / (1L << 30), "buffer 22.4 GiB"),
            (["bits"], "Gib", 8e9 / (1L << 30), "buffer 179 Gib"),
            (["binary"], "Gb", 8, "buffer 192 Gb"),
            (["bits"], "GB", 1, "buffer 24 GB"),
        })
        {
            await page.Locator($"[data-do={press[0]}]").ClickAsync();
            (string Axis, double Top, string Note, string Head) now = await Shown();
            Assert.Equal($"In the buffer ({unit})", now.Axis);
            Assert.Equal(plain.Top * factor, now.Top, plain.Top * factor * 1e-9);
            Assert.Contains(note, now.Note, StringComparison.Ordinal);
            Assert.Contains($"({unit})", now.Head, StringComparison.Ordinal);
            string said = await page.EvaluateAsync<string>("() => document.querySelector('#main section.cell .said').textContent");
            Assert.Contains(unit.Replace('G', 'M') + "/s", said, StringComparison.Ordinal);
        }

        // What a change brings in is in the chosen units too.
        await page.Locator("[data-do=binary]").ClickAsync();
        await page.Locator("#in-buffer").FocusAsync();
        await page.Keyboard.PressAsync("ArrowRight");
        await page.WaitForFunctionAsync("() => location.search.includes('buffer=28') && document.documentElement.dataset.settled === '1'");
        Assert.Equal("In the buffer (GiB)", (await Shown()).Axis);
        Assert.Empty(watched.Errors);
    }
}
