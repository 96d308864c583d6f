using Microsoft.Playwright;
using Xunit;

namespace PostPipeline.Browser.Tests;

/// <summary>The handout on a phone that is offline.</summary>
[Collection(BrowserCollection.Name)]
public sealed class HandoutTests(BrowserFixture browsers)
{
    [SkippableFact]
    public async Task Handout_OnAnOfflinePhone_MovesBetweenItsStatesWithoutARequest()
    {
        IBrowser browser = await browsers.OpenAsync();
        string folder = Directory.CreateTempSubdirectory("postpipeline-handout-").FullName;
        try
        {
            await Command.RunAsync("handout", "recording-and-bursts", "--vary", "rate", "--steps", "4", "--seed", "7", "--out", folder, "--data", Path.Combine(folder, "data"));
            await using IBrowserContext context = await browser.NewContextAsync(new() { Offline = true, ViewportSize = new() { Width = 390, Height = 844 }, HasTouch = true });
            Watched watched = await Watched.NewAsync(context);
            await watched.Page.GotoAsync("file://" + Path.Combine(folder, "handout.html"));
            await watched.Page.WaitForSelectorAsync("html[data-ready='1'][data-settled='1']");
            Assert.Contains("A burst of", await watched.Page.Locator("section.cell .said").First.TextContentAsync(), StringComparison.Ordinal);
            await watched.Page.Locator("#in-rate").FocusAsync();
            await watched.Page.Keyboard.PressAsync("Home");
            await watched.Page.WaitForFunctionAsync("() => document.querySelector('section.cell .said').textContent.includes('Within the ceiling')");
            await watched.EveryChartIsDrawnAsync(4);
            await watched.FitsAndReadsAsync();
            Assert.Empty(watched.Errors);
            Assert.All(watched.Requests, url => Assert.True(url.StartsWith("file://", StringComparison.Ordinal) || url.StartsWith("data:", StringComparison.Ordinal), url));

            string sheet = await File.ReadAllTextAsync(Path.Combine(folder, "exercises.html"));
            string key = await File.ReadAllTextAsync(Path.Combine(folder, "key.html"));
            Assert.DoesNotContain("MB/s made", sheet[..sheet.IndexOf("<script>", StringComparison.Ordinal)], StringComparison.Ordinal);
            Assert.Contains("MB/s", key[..key.IndexOf("<script>", StringComparison.Ordinal)], StringComparison.Ordinal);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
