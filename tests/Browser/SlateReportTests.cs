using Microsoft.Playwright;
using Xunit;

namespace PostPipeline.Browser.Tests;

/// <summary>The report of the slate, opened from a file in a browser that is offline.</summary>
[Collection(BrowserCollection.Name)]
public sealed class SlateReportTests(BrowserFixture browsers)
{
    [SkippableFact]
    public async Task Report_OfTheSlate_DrawsEveryChartAndFitsWithoutErrorOrRequest()
    {
        IBrowser browser = await browsers.OpenAsync();
        string folder = Directory.CreateTempSubdirectory("postpipeline-report-").FullName;
        try
        {
            string file = Path.Combine(folder, "slate.html");
            await Command.RunAsync("run", "slate", "-p", "seconds=1", "--to", file, "--data", Path.Combine(folder, "data"));
            await using IBrowserContext context = await browser.NewContextAsync(new() { Offline = true });
            Watched watched = await Watched.NewAsync(context);
            await watched.Page.GotoAsync("file://" + file);
            await watched.Page.WaitForSelectorAsync("html[data-ready='1']");
            await watched.EveryChartIsDrawnAsync(5);
            await watched.FitsAndReadsAsync();
            await watched.PartAsync("slate-schedule", "When does each project's work run");
            await watched.PartAsync("slate-loads", "How full is the farm?", "Does the material fit?");

            Assert.Empty(watched.Errors);
            Assert.All(watched.Requests, url => Assert.StartsWith("file://", url, StringComparison.Ordinal));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
