using Microsoft.Playwright;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Browser.Tests;

/// <summary>What a person moves on a live page: every kind of declared parameter, typed values that are not allowed, playing, keeping a state beside.</summary>
[Collection(LiveCollection.Name)]
public sealed class InputsTests(BrowserFixture browsers, LivePages live)
{
    private const string Notebook = """
        {"nbformat":4,"nbformat_minor":5,"metadata":{},"cells":[
         {"cell_type":"markdown","id":"a","metadata":{},"source":"# What was chosen?"},
         {"cell_type":"code","id":"b","metadata":{"tags":["parameters"]},"execution_count":null,"outputs":[],"source":"var hours = Parameter.Number(\"hours\", 2, min: 0.5, max: 8, step: 0.5, unit: \"h\", label: \"Recorded\");\nvar proxies = Parameter.Flag(\"proxies\", false, label: \"Proxies in the camera\");\nvar level = Parameter.Choice(\"level\", \"P50\", [\"P50\", \"P80\", \"P90\"], label: \"Planned at\");\nvar due = Parameter.Date(\"due\", \"2027-03-01\", \"2027-01-01\", \"2027-12-31\", label: \"Due\");\nvar column = Parameter.Text(\"column\", \"seconds\", label: \"Column\");"},
         {"cell_type":"code","id":"c","metadata":{},"execution_count":null,"outputs":[],"source":"Show(new Markdown($\"{hours} h, {proxies}, {level}, {due:yyyy-MM-dd}, {column}\"));\nChart.Band(\"Hours\", new(\"Day\", \"number\"), new(\"Recorded\", \"h\"), [BandSeries.Line(\"recorded\", [(1, hours), (2, 2 * hours)])])"}]}
        """;

    [SkippableFact]
    public async Task Inputs_OfEveryKind_ReachTheCellsByKeyboardAndStandInTheAddress()
    {
        Outside.Need(BrowserFixture.Executable is not null, "no Chromium is installed");
        string file = Path.Combine(Directory.CreateTempSubdirectory("postpipeline-inputs-").FullName, "inputs.ipynb");
        await File.WriteAllTextAsync(file, Notebook);
        await using ServedPage served = ServedPage.Start(file);
        await using Watched watched = await served.OpenAsync(browsers);
        IPage page = watched.Page;
        Task Said(string text) => page.WaitForFunctionAsync("text => document.querySelector('#main section.cell .said').textContent.trim() === text && document.documentElement.dataset.settled === '1'", text);
        await Said("2 h, False, P50, 2027-03-01, seconds");
        await page.Locator("#in-proxies").FocusAsync();
        await page.Keyboard.PressAsync("Space");
        await Said("2 h, True, P50, 2027-03-01, seconds");
        await page.Locator("#in-level").FocusAsync();
        await page.Keyboard.PressAsync("ArrowDown");
        await Said("2 h, True, P80, 2027-03-01, seconds");
        await page.Locator("#in-due").FillAsync("2027-04-02");
        await Said("2 h, True, P80, 2027-04-02, seconds");
        await page.Locator("#in-column").FillAsync("<b>wall</b>");
        await page.Keyboard.PressAsync("Enter");
        await Said("2 h, True, P80, 2027-04-02, <b>wall</b>");
        await page.Locator("#in-column").FillAsync("wall");
        await page.Keyboard.PressAsync("Tab");
        await Said("2 h, True, P80, 2027-04-02, wall");
        await page.Locator("#in-hours").FocusAsync();
        await page.Keyboard.PressAsync("End");
        await Said("8 h, True, P80, 2027-04-02, wall");
        Assert.Equal("?hours=8&proxies=true&level=P80&due=2027-04-02&column=wall", new Uri(page.Url).Query);

        // Undo goes back one change at a time, a bookmark opens in its state, reset empties the address.
        await page.Locator("[data-live=back]").ClickAsync();
        await Said("2 h, True, P80, 2027-04-02, wall");
        await page.GotoAsync(served.Page + "?hours=3.5&level=P90");
        await Said("3.5 h, True, P90, 2027-04-02, wall");
        await page.Locator("[data-live=reset]").ClickAsync();
        await Said("2 h, False, P50, 2027-03-01, seconds");
        Assert.Equal(string.Empty, new Uri(page.Url).Query);
        watched.IsQuiet();
        Directory.Delete(Path.GetDirectoryName(file)!, recursive: true);
    }

    [SkippableFact]
    public async Task Typed_NotAllowed_IsRefusedWithAReasonAndChangesNothing()
    {
        await using Watched watched = await live.OpenAsync(browsers, "recording-and-bursts", "rate=240");
        string before = await watched.FirstChartAsync();
        foreach (string typed in new[] { "9999", string.Empty })
        {
            await watched.Page.EvaluateAsync("() => { const state = document.querySelector('.state'); state.classList.remove('refused'); state.textContent = ''; }");
            await watched.Page.Locator("[data-parameter=rate] input[type=number]").FillAsync(typed);
            await watched.Page.Keyboard.PressAsync("Enter");
            await watched.Page.WaitForSelectorAsync(".state.refused");
            Assert.NotEqual(string.Empty, await watched.Page.Locator(".state").TextContentAsync());
            Assert.Equal(before, await watched.FirstChartAsync());
        }

        watched.IsQuiet();
    }

    [SkippableFact]
    public async Task Address_WithAValueThatIsNotAllowed_SaysWhatIsAndShowsTheValuesThatHold()
    {
        await using Watched watched = await live.Of("recording-and-bursts").OpenAddressAsync(browsers, "?rate=9999");
        await watched.Page.WaitForSelectorAsync(".state.refused");
        Assert.Contains("a number from 24 to 480", await watched.Page.Locator(".state").TextContentAsync(), StringComparison.Ordinal);
        Assert.Equal(await watched.Page.Locator("[data-parameter=rate]").GetAttributeAsync("data-value"), await watched.Page.Locator("[data-parameter=rate] input[type=number]").InputValueAsync());
    }

    [SkippableFact]
    public async Task Slider_Played_MovesByItselfUntilItIsStopped()
    {
        await using Watched watched = await live.OpenAsync(browsers, "recording-and-bursts", "rate=48");
        IPage page = watched.Page;
        ILocator play = page.Locator("[data-parameter=rate] [data-live=play]");
        await play.ClickAsync();
        await page.WaitForFunctionAsync("() => Number(new URLSearchParams(location.search).get('rate')) > 60");
        Assert.Equal("Stop", await play.TextContentAsync());
        await play.ClickAsync();
        Assert.Equal("Play", await play.TextContentAsync());
        await page.WaitForFunctionAsync("() => document.documentElement.dataset.settled === '1'");
        watched.IsQuiet();
    }

    [SkippableFact]
    public async Task State_KeptBeside_StaysAsItWasWhileTheOtherMoves()
    {
        const string Beside = "() => JSON.stringify(document.querySelector('.beside .pp-plot').ppFigure)";
        await using Watched watched = await live.OpenAsync(browsers, "recording-and-bursts", "rate=240", width: 1600);
        IPage page = watched.Page;
        string kept = await watched.FirstChartAsync();
        await page.Locator("[data-live=freeze]").ClickAsync();
        await page.WaitForFunctionAsync("() => document.querySelector('.beside .pp-plot[data-drawn] svg.main-svg')");
        await page.Locator("#in-rate").FocusAsync();
        await page.Keyboard.PressAsync("End");
        await page.WaitForFunctionAsync("() => location.search.includes('rate=480') && document.documentElement.dataset.settled === '1'");
        Assert.NotEqual(kept, await watched.FirstChartAsync());
        Assert.Equal(kept, await page.EvaluateAsync<string>(Beside));
        Assert.Contains("rate 240", await page.Locator(".beside .was").TextContentAsync(), StringComparison.Ordinal);
        await watched.PartAsync("live-beside");
        await watched.FitsAsync();
        await page.Locator("[data-live=freeze]").ClickAsync();
        Assert.Equal(0, await page.Locator(".beside").CountAsync());
        watched.IsQuiet();
    }
}
