using Microsoft.Playwright;
using Xunit;

namespace PostPipeline.Browser.Tests;

/// <summary>The loop of the cards, played and stepped through.</summary>
[Collection(LiveCollection.Name)]
public sealed class PlayTests(BrowserFixture browsers, LivePages live)
{
    [SkippableFact]
    public async Task Night_SteppedThrough_SaysWhatTheNodesDoAndEndsWhole()
    {
        await using Watched watched = await live.OpenAsync(browsers, "farm-sizing");
        IPage page = watched.Page;
        ILocator figure = page.Locator("figure:has(.player)").First;
        await figure.ScrollIntoViewIfNeededAsync();
        const string Drawn = "() => { const p = document.querySelector('figure:has(.player) .pp-plot'); return p.data.reduce((all, t) => all + t.x.reduce((s, v) => s + v, 0), 0); }";
        double whole = await page.EvaluateAsync<double>(Drawn);
        await figure.Locator("[data-do=step]").ClickAsync();
        string first = await figure.Locator(".now").TextContentAsync() ?? string.Empty;
        await figure.Locator("[data-do=step]").ClickAsync();
        Assert.NotEqual(first, await figure.Locator(".now").TextContentAsync());
        Assert.StartsWith("At ", first, StringComparison.Ordinal);
        Assert.InRange(await page.EvaluateAsync<double>(Drawn), 0, whole - 1e-6);
        await figure.Locator("[data-do=run]").ClickAsync();
        double from = await page.EvaluateAsync<double>(Drawn);
        await page.WaitForFunctionAsync($"was => ({Drawn})() > was", from);
        await figure.Locator("[data-do=run]").ClickAsync();
        await figure.Locator(".clock").FocusAsync();
        await page.Keyboard.PressAsync("End");
        await page.WaitForFunctionAsync($"all => Math.abs(({Drawn})() - all) < 1e-9", whole);
        Assert.Empty(watched.Errors);
    }

    [SkippableFact]
    public async Task Loop_SteppedAndPlayed_MovesTheClockAndCutsTheBars()
    {
        await using Watched watched = await live.OpenAsync(browsers, "offload-and-storage");
        IPage page = watched.Page;
        ILocator figure = page.Locator("figure:has(.player)").First;
        await figure.ScrollIntoViewIfNeededAsync();
        async Task<double> Drawn() => await page.EvaluateAsync<double>("() => { const p = document.querySelector('figure:has(.player) .pp-plot'); return p.data.reduce((all, t) => all + t.x.reduce((s, v) => s + v, 0), 0); }");
        double whole = await Drawn();
        await figure.Locator("[data-do=step]").ClickAsync();
        string first = await figure.Locator(".now").TextContentAsync() ?? string.Empty;
        Assert.StartsWith("At 9.00 h: card A1: in the camera", first, StringComparison.Ordinal);
        Assert.Equal(0, await Drawn(), 1e-9);
        await figure.Locator("[data-do=step]").ClickAsync();
        string second = await figure.Locator(".now").TextContentAsync() ?? string.Empty;
        Assert.NotEqual(first, second);
        double after = await Drawn();
        Assert.InRange(after, 0.1, whole - 0.1);

        await figure.Locator("[data-do=run]").ClickAsync();
        await page.WaitForFunctionAsync("was => { const p = document.querySelector('figure:has(.player) .pp-plot'); return p.data.reduce((all, t) => all + t.x.reduce((s, v) => s + v, 0), 0) > was + 0.1; }", after);
        await figure.Locator("[data-do=run]").ClickAsync();
        Assert.True(await page.EvaluateAsync<bool>("() => !document.querySelector('figure:has(.player) .pp-plot').ppTimer"), "the clock goes on");
        await watched.PartAsync("live-loop", "The loop of the cards, over a day");
        await figure.Locator(".clock").FocusAsync();
        await page.Keyboard.PressAsync("End");
        await page.WaitForFunctionAsync("all => { const p = document.querySelector('figure:has(.player) .pp-plot'); return Math.abs(p.data.reduce((s, t) => s + t.x.reduce((a, v) => a + v, 0), 0) - all) < 1e-9; }", whole);
        Assert.Empty(watched.Errors);
    }
}
