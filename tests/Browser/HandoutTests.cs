using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Browser.Tests;

/// <summary>The handout on a phone that is offline.</summary>
[Collection(ReportCollection.Name)]
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

            // A phone that is turned gets the narrow layout, with its smaller type, without being asked.
            await watched.Page.SetViewportSizeAsync(390, 844);
            await watched.Page.WaitForFunctionAsync("() => [...document.querySelectorAll('.pp-plot')].filter(p => p.offsetParent).every(p => p._fullLayout.width === p.clientWidth && p._fullLayout.font.size === 12)");
            watched.IsQuiet();

            foreach (string paper in new[] { "exercises.html", "key.html" })
            {
                await using Watched printed = await browsers.OpenFileAsync(Path.Combine(folder, paper), width: 390);
                await printed.FitsAsync();
                printed.IsQuiet();
            }

            // A sheet without charts carries no library of charts: it is for a phone, or for a printer.
            Assert.InRange(new FileInfo(Path.Combine(folder, "exercises.html")).Length, 1_000, 100_000);
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
