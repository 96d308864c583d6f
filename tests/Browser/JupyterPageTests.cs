using System.Diagnostics;
using Microsoft.Playwright;
using PostPipeline.Notebooks.Documents;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Browser.Tests;

/// <summary>A notebook run by our kernel under the distribution's own program, its page opened in a browser that is offline.</summary>
[Collection(ReportCollection.Name)]
public sealed class JupyterPageTests(BrowserFixture browsers)
{
    [SkippableFact]
    public async Task Notebook_ExecutedAndConvertedUnderJupyter_DrawsEveryChartOffline()
    {
        string nbconvert = Outside.Program("jupyter-nbconvert");
        IBrowser browser = await browsers.OpenAsync();
        string folder = Directory.CreateTempSubdirectory("postpipeline-jupyter-page-").FullName;
        try
        {
            await Command.RunAsync("jupyter", "install", "--prefix", folder);
            await ConvertAsync(nbconvert, folder, Path.Combine(Outside.Root, "notebooks", "off-speed-labels.ipynb"));
            await using IBrowserContext context = await browser.NewContextAsync(new() { Offline = true });
            IPage page = await context.NewPageAsync();
            await page.GotoAsync("file://" + Path.Combine(folder, "off-speed-labels.html"));
            int charts = NotebookFile.Inside("off-speed-labels").Cells.Count(c => c.Source.Contains("StripAsync", StringComparison.Ordinal) || c.Source.Contains("DriftAsync", StringComparison.Ordinal));
            Assert.Equal(2, charts);
            await page.WaitForFunctionAsync("count => [...document.querySelectorAll('.js-plotly-plot')].filter(p => p.querySelectorAll('.trace, .point').length > 0).length === count", charts);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static async Task ConvertAsync(string program, string folder, string notebook)
    {
        ProcessStartInfo start = new(program) { RedirectStandardError = true };
        foreach (string argument in new[] { "--to", "html", "--execute", "--ExecutePreprocessor.timeout=300", "--output-dir", folder, notebook })
        {
            start.ArgumentList.Add(argument);
        }

        start.Environment["JUPYTER_PATH"] = Path.Combine(folder, "share", "jupyter");
        start.Environment["JUPYTER_RUNTIME_DIR"] = Path.Combine(folder, "runtime");
        start.Environment["HOME"] = folder;
        start.Environment["POSTPIPELINE_DATA"] = Path.Combine(folder, "data");
        using Process process = Process.Start(start)!;
        string errors = await process.StandardError.ReadToEndAsync();
        await process.WaitForExitAsync();
        Assert.True(process.ExitCode == 0, errors);
    }
}
