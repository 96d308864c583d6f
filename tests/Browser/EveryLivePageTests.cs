using PostPipeline.Notebooks.Documents;
using Xunit;

namespace PostPipeline.Browser.Tests;

/// <summary>What holds for the live page of every notebook.</summary>
[Collection(BrowserCollection.Name)]
public sealed class EveryLivePageTests(BrowserFixture browsers, LivePages live, Reports reports)
{
    // The others wait for the long tier: three are served for this alone, and the comparison's many charts take long at three
    // widths. Their reports have the same charts and are looked at everywhere.
    private static readonly string[] Looked = ["farm-sizing", "offload-and-storage", "recording-and-bursts", "slate"];
    private static readonly string[] Served = ["compare", .. Looked];

    public static TheoryData<string> All => [.. NotebookFile.NamesInside.Where(name => Looked.Contains(name) || Environment.GetEnvironmentVariable("POSTPIPELINE_LONG") == "1")];

    [SkippableTheory]
    [MemberData(nameof(All))]
    public async Task Page_Opened_DrawsEveryChartFitsAndStaysOnLoopback(string name)
    {
        int charts = Drawn.In((await reports.OfAsync(name)).Notebook).Count;
        await using (Watched watched = await live.OpenAsync(browsers, name))
        {
            await watched.EveryChartIsDrawnAsync(charts);
            await (name is "compare" or "recording-and-bursts" ? watched.FitsAndReadsAsync() : watched.FitsAsync());
            watched.IsQuiet();
        }

        if (!Served.Contains(name))
        {
            await live.EndAsync(name);
        }
    }
}
