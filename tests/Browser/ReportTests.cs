using Microsoft.Playwright;
using Xunit;

namespace PostPipeline.Browser.Tests;

/// <summary>The demonstration's report, opened from a file in a browser that is offline.</summary>
[Collection(BrowserCollection.Name)]
public sealed class ReportTests(BrowserFixture browsers)
{
    [SkippableFact]
    public async Task Report_OpenedOfflineFromAFile_DrawsEveryChartWithoutErrorOrRequest()
    {
        IBrowser browser = await browsers.OpenAsync();
        string folder = Directory.CreateTempSubdirectory("postpipeline-report-").FullName;
        try
        {
            string file = Path.Combine(folder, "report.html");
            await Command.RunAsync("run", "compare", "-p", "draws=100", "--to", file, "--data", Path.Combine(folder, "data"));
            Assert.True(new FileInfo(file).Length < 6_000_000, "the report has 6 MB or more");

            await using IBrowserContext context = await browser.NewContextAsync(new() { Offline = true });
            Watched watched = await Watched.NewAsync(context);
            await watched.Page.GotoAsync("file://" + file);
            await watched.Page.WaitForSelectorAsync("html[data-ready='1']");
            await watched.EveryChartIsDrawnAsync(5);
            await watched.FitsAndReadsAsync();

            await watched.PrintAsync();
            await watched.PartAsync("report-top");
            await watched.PartAsync("report-storage-schedule", "Does the material fit?", "When is each step done?");

            IDownload download = await watched.Page.RunAndWaitForDownloadAsync(() => watched.Page.Locator("button[data-do=csv]:visible").First.ClickAsync());
            string csv = await File.ReadAllTextAsync(await download.PathAsync());
            Assert.StartsWith("\ufeffPipeline,Admissible,", csv.StartsWith('\ufeff') ? csv : "\ufeff" + csv, StringComparison.Ordinal);

            Assert.Empty(watched.Errors);
            Assert.All(watched.Requests, url => Assert.True(url.StartsWith("file://", StringComparison.Ordinal) || url.StartsWith("data:", StringComparison.Ordinal) || url.StartsWith("blob:", StringComparison.Ordinal), url));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
