using System.Diagnostics;
using Microsoft.Playwright;

namespace PostPipeline.Benchmarks.Pages;

/// <summary>A browser that moves a slider of a live page and asks the page when its charts were redrawn.</summary>
internal sealed class LiveLatency : IAsyncDisposable
{
    private const string Done = "() => document.documentElement.dataset.settled === '1' && window.postpipelinePage.times && window.postpipelinePage.times()";
    private readonly IPlaywright playwright;
    private readonly IBrowser browser;

    private LiveLatency(IPlaywright playwright, IBrowser browser) => (this.playwright, this.browser) = (playwright, browser);

    public static async Task<LiveLatency> OpenAsync(string executable)
    {
        IPlaywright playwright = await Playwright.CreateAsync();
        return new(playwright, await playwright.Chromium.LaunchAsync(new()
        {
            ExecutablePath = executable,
            Headless = true,
            Args = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
        }));
    }

    public async Task<IReadOnlyList<MoveTimes>> MeasureAsync(string command, string notebook, string parameter, int chart, int moves, int warmUp)
    {
        string data = Directory.CreateTempSubdirectory("postpipeline-latency-").FullName;
        using Process process = PageBenchmarks.Start(command, "present", notebook, "--port", "0", "--data", data);
        try
        {
            _ = process.StandardError.ReadToEndAsync();
            string address = await process.StandardOutput.ReadLineAsync() ?? throw new InvalidOperationException("the page was not served");
            IPage page = await browser.NewPageAsync(new() { ViewportSize = new() { Width = 1280, Height = 900 } });
            page.SetDefaultTimeout(120_000);
            await page.GotoAsync(address);
            await page.WaitForSelectorAsync("html[data-ready='1'][data-settled='1'][data-connected='1']");
            await page.Locator("#main .pp-plot").Nth(chart).EvaluateAsync("p => p.scrollIntoView({ block: 'center' })");
            List<MoveTimes> times = [];
            for (int i = 0; i < moves + warmUp; i++)
            {
                await page.Locator($"#in-{parameter}").FocusAsync();
                await page.Keyboard.PressAsync(i % 12 < 6 ? "ArrowRight" : "ArrowLeft");
                await page.WaitForFunctionAsync(Done);
                if (i >= warmUp)
                {
                    double[] at = await page.EvaluateAsync<double[]>("() => { const t = window.postpipelinePage.times(); return [t.heard - t.sent, t.first - t.sent, t.last - t.sent, t.server]; }");
                    times.Add(new(at[0], at[1], at[2], at[3]));
                }
            }

            await page.CloseAsync();
            return times;
        }
        finally
        {
            process.Kill(entireProcessTree: true);
            await process.WaitForExitAsync();
            Directory.Delete(data, recursive: true);
        }
    }

    public async ValueTask DisposeAsync()
    {
        await browser.DisposeAsync();
        playwright.Dispose();
    }
}
