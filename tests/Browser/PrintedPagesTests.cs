using PostPipeline.Studies;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Browser.Tests;

/// <summary>The pages to hand over, of the invented production, as they are printed.</summary>
[Collection(ReportCollection.Name)]
public sealed class PrintedPagesTests(BrowserFixture browsers)
{
    private const double PixelsOfAMillimetre = 96 / 25.4;

    // ISO 216: A4 is 210 × 297 mm; ANSI/ASME Y14.1: Letter is 8.5 × 11 in. The pages' own margins are 14 mm.
    [SkippableFact]
    public async Task Pages_OnA4AndLetter_ArePrintedOnOneSheetEachAndNothingIsCut()
    {
        Outside.Need(BrowserFixture.Executable is not null, "no Chromium is installed");
        string folder = Directory.CreateTempSubdirectory("postpipeline-printed-").FullName;
        try
        {
            string brief = Path.Combine(folder, "brief.yaml");
            await File.WriteAllTextAsync(brief, Demo.BriefText());
            await Command.RunAsync("print", "all", brief, "--draws", "20", "--out", folder, "--data", Path.Combine(folder, "data"));
            string[] kinds = Directory.GetFiles(folder, "*.html");
            Assert.NotEmpty(kinds);
            await using Watched watched = await Watched.NewAsync(await (await browsers.OpenAsync()).NewContextAsync(new() { Offline = true }));
            await watched.Page.EmulateMediaAsync(new() { Media = Microsoft.Playwright.Media.Print });
            foreach (string kind in kinds)
            {
                await watched.Page.GotoAsync("file://" + kind);
                foreach ((string paper, double across, double down) in new[] { ("A4", 210, 297), ("Letter", 8.5 * 25.4, 11 * 25.4) })
                {
                    (double width, double height) = ((across - 28) * PixelsOfAMillimetre, (down - 28) * PixelsOfAMillimetre);
                    await watched.Page.SetViewportSizeAsync((int)width, (int)height);
                    double[] heights = await watched.Page.EvaluateAsync<double[]>("() => [...document.querySelectorAll('section')].map(s => s.getBoundingClientRect().height)");
                    Assert.All(heights, of => Assert.True(of <= height, $"{Path.GetFileName(kind)} on {paper}: a page is {of / PixelsOfAMillimetre:0} mm high"));
                    Assert.True(await watched.Page.EvaluateAsync<bool>("() => document.documentElement.scrollWidth <= document.documentElement.clientWidth"), $"{Path.GetFileName(kind)} on {paper}: wider than the sheet");
                }
            }

            watched.IsQuiet();
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
