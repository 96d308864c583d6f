using Microsoft.Playwright;
using PostPipeline.Notebooks.Documents;
using Xunit;

namespace PostPipeline.Browser.Tests;

/// <summary>The notebooks run without a screen, and their reports opened from a file in a browser that is offline.</summary>
[Collection(ReportCollection.Name)]
public sealed class ReportTests(BrowserFixture browsers, Reports reports)
{
    public static TheoryData<string> All => [.. NotebookFile.NamesInside];

    // Needs no browser: every notebook runs to its end wherever the tests run.
    [Theory]
    [MemberData(nameof(All))]
    public async Task Notebook_Headless_RunsToItsEnd(string name)
    {
        (string html, string executed) = await reports.OfAsync(name);
        Assert.InRange(new FileInfo(html).Length, 1_000_000, 6_000_000);
        Assert.DoesNotContain("This report is not complete.", await File.ReadAllTextAsync(html), StringComparison.Ordinal);
        Assert.NotEmpty(Drawn.In(executed));
    }

    [SkippableTheory]
    [MemberData(nameof(All))]
    public async Task Report_OpenedOfflineFromAFile_DrawsEveryChartAndFitsWithoutErrorOrRequest(string name)
    {
        (string html, string executed) = await reports.OfAsync(name);
        await using Watched watched = await browsers.OpenFileAsync(html);
        await watched.EveryChartIsDrawnAsync(Drawn.In(executed).Count);
        await watched.FitsAndReadsAsync();
        await watched.PrintAsync();
        watched.IsQuiet();
    }

    [SkippableFact]
    public async Task Table_SavedAsCsv_HoldsWhatTheReportShows()
    {
        await using Watched watched = await browsers.OpenFileAsync((await reports.OfAsync("compare")).Html);
        await watched.PartAsync("report-top");
        await watched.PartAsync("report-storage-schedule", "Does the material fit?", "When is each step done?");
        IDownload download = await watched.Page.RunAndWaitForDownloadAsync(() => watched.Page.Locator("button[data-do=csv]:visible").First.ClickAsync());
        string csv = await File.ReadAllTextAsync(await download.PathAsync());
        Assert.StartsWith("\ufeffPipeline,Admissible,", csv.StartsWith('\ufeff') ? csv : "\ufeff" + csv, StringComparison.Ordinal);
    }

    [SkippableFact]
    public async Task Contents_OfTheSlate_LeadToItsParts()
    {
        await using Watched watched = await browsers.OpenFileAsync((await reports.OfAsync("slate")).Html);
        await watched.EveryChartIsDrawnAsync(5);
        await watched.PartAsync("slate-schedule", "When does each project's work run");
        await watched.PartAsync("slate-loads", "How full is the farm?", "Does the material fit?");
        ILocator links = watched.Page.Locator(".contents a");
        string[] titles = [.. await links.AllTextContentsAsync()];
        Assert.Equal([.. await watched.Page.Locator("main h2").AllTextContentsAsync()], titles);
        await links.Filter(new() { HasText = "How sure is each date?" }).ClickAsync();
        await watched.Page.WaitForFunctionAsync("() => { const at = [...document.querySelectorAll('main h2')].find(h => h.textContent === 'How sure is each date?').getBoundingClientRect().top; return at >= -40 && at < window.innerHeight / 2; }");
    }
}
