using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Browser.Tests;

/// <summary>The handout on a phone that is offline.</summary>
[Collection(BrowserCollection.Name)]
public sealed class HandoutTests(BrowserFixture browsers)
{
    [SkippableFact]
    public async Task Handout_OnAnOfflinePhone_MovesBetweenItsStatesWithoutARequest()
    {
        Outside.Need(BrowserFixture.Executable is not null, "no Chromium is installed");
        string folder = Directory.CreateTempSubdirectory("postpipeline-handout-").FullName;
        try
        {
            await Command.RunAsync("handout", "recording-and-bursts", "--vary", "rate", "--steps", "4", "--seed", "7", "--out", folder, "--data", Path.Combine(folder, "data"));
            await using Watched watched = await browsers.OpenFileAsync(Path.Combine(folder, "handout.html"), width: 390);
            await watched.Page.WaitForSelectorAsync("html[data-settled='1']");
            Assert.Contains("A burst of", await watched.Page.Locator("section.cell .said").First.TextContentAsync(), StringComparison.Ordinal);
            await watched.Page.Locator("#in-rate").FocusAsync();
            await watched.Page.Keyboard.PressAsync("Home");
            await watched.Page.WaitForFunctionAsync("() => document.querySelector('section.cell .said').textContent.includes('Within the ceiling')");
            await watched.EveryChartIsDrawnAsync(4);
            await watched.FitsAndReadsAsync();
            watched.IsQuiet();

            foreach (string paper in new[] { "exercises.html", "key.html" })
            {
                await using Watched printed = await browsers.OpenFileAsync(Path.Combine(folder, paper), width: 390);
                await printed.FitsAsync();
                printed.IsQuiet();
            }

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
