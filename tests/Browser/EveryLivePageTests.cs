using PostPipeline.Notebooks.Documents;
using Xunit;

namespace PostPipeline.Browser.Tests;

/// <summary>What holds for the live page of every notebook.</summary>
[Collection(LiveCollection.Name)]
public sealed class EveryLivePageTests(BrowserFixture browsers, LivePages live)
{
    // Three are served for this alone, and the comparison's many charts take long: they are looked at on a phone, and at the
    // other widths in the long tier. Their reports have the same charts and are looked at at every width.
    private static readonly string[] AtEveryWidth = ["farm-sizing", "offload-and-storage", "recording-and-bursts", "slate"];
    private static readonly string[] Served = ["compare", .. AtEveryWidth];

    public static TheoryData<string> All => [.. NotebookFile.NamesInside];

    [SkippableTheory]
    [MemberData(nameof(All))]
    public async Task Page_Opened_DrawsEveryChartFitsAndStaysOnLoopback(string name)
    {
        int[] widths = AtEveryWidth.Contains(name) || Environment.GetEnvironmentVariable("POSTPIPELINE_LONG") == "1" ? Watched.Widths : [390];
        await using (Watched watched = await live.OpenAsync(browsers, name, width: widths[0]))
        {
            int charts = await live.Of(name).ChartsAsync();
            Assert.InRange(charts, 1, 100);
            await watched.EveryChartIsDrawnAsync(charts);
            Assert.Equal(0, await watched.Page.Locator("#main .error").CountAsync());
            await (name is "compare" or "recording-and-bursts" ? watched.FitsAndReadsAsync(widths) : watched.FitsAsync(widths));
            watched.IsQuiet();
        }

        if (!Served.Contains(name))
        {
            await live.EndAsync(name);
        }
    }
}
