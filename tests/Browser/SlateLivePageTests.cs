using Microsoft.Playwright;
using Xunit;

namespace PostPipeline.Browser.Tests;

/// <summary>The slate as a live page: its cells plan for seconds, not milliseconds.</summary>
[Collection(LiveCollection.Name)]
public sealed class SlateLivePageTests(BrowserFixture browsers, LivePages live)
{
    private const string Charts = "() => JSON.stringify([...document.querySelectorAll('#main .pp-plot')].map(p => window.postpipelinePage.figureOf(p)))";

    [SkippableFact]
    public async Task Inputs_MovedByKeyboardAndByMouse_PlanAnewAndAShockDoesNot()
    {
        await using Watched watched = await live.OpenAsync(browsers, "slate");
        IPage page = watched.Page;
        string before = await page.EvaluateAsync<string>(Charts);

        // A list, by the keyboard: durations planned at P50.
        await page.Locator("#in-level").FocusAsync();
        await page.Keyboard.PressAsync("ArrowDown");
        await page.WaitForFunctionAsync("() => document.querySelector('.state').textContent.startsWith('Computing')");
        await page.WaitForFunctionAsync("() => location.search.includes('level=P50') && document.documentElement.dataset.settled === '1'");
        string byKeyboard = await page.EvaluateAsync<string>(Charts);
        Assert.NotEqual(before, byKeyboard);

        // A slider, by the mouse: the shock strikes another project, and the plan with its charts stands.
        await page.Locator("details.answer summary").First.ClickAsync();
        string answer = await page.Locator("details.answer").First.TextContentAsync() ?? string.Empty;
        LocatorBoundingBoxResult box = (await page.Locator("#in-whose").BoundingBoxAsync())!;
        await page.Mouse.ClickAsync(box.X + (box.Width * 0.4f), box.Y + (box.Height / 2));
        await page.WaitForFunctionAsync("() => /whose=[4-6]/.test(location.search) && document.documentElement.dataset.settled === '1'");
        Assert.NotEqual(answer, await page.Locator("details.answer").First.TextContentAsync());
        Assert.Equal(byKeyboard, await page.EvaluateAsync<string>(Charts));

        // A slider, by the keyboard: other draws are another plan.
        await page.Locator("#in-draws").FocusAsync();
        await page.Keyboard.PressAsync("ArrowRight");
        await page.WaitForFunctionAsync("() => location.search.includes('draws=60') && document.documentElement.dataset.settled === '1'");
        Assert.NotEqual(byKeyboard, await page.EvaluateAsync<string>(Charts));
        watched.IsQuiet();
    }
}
