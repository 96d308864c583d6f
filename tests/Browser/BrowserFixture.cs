using Microsoft.Playwright;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Browser.Tests;

/// <summary>One headless Chromium of the machine for the tests of a collection; they are skipped with the reason where there is none.</summary>
public sealed class BrowserFixture : IAsyncLifetime
{
    private IPlaywright? playwright;
    private IBrowser? browser;

    public static string? Executable { get; } = new[] { "/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome" }.FirstOrDefault(File.Exists);

    public async Task<IBrowser> OpenAsync()
    {
        Outside.Need(Executable is not null, "no Chromium is installed");
        if (browser is null)
        {
            playwright = await Playwright.CreateAsync();
            browser = await playwright.Chromium.LaunchAsync(new()
            {
                ExecutablePath = Executable,
                Headless = true,
                Timeout = 120_000,
                Args = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
            });
        }

        return browser;
    }

    /// <summary>A page from a file in a browser that is offline, drawn.</summary>
    /// <param name="file">The file.</param>
    /// <param name="width">Of the window, in CSS pixels.</param>
    internal async Task<Watched> OpenFileAsync(string file, int width = 1280)
    {
        IBrowser opened = await OpenAsync();
        Watched watched = await Watched.NewAsync(await opened.NewContextAsync(new() { Offline = true, ViewportSize = new() { Width = width, Height = 900 }, HasTouch = width < 500 }));
        await watched.Page.GotoAsync("file://" + file);
        await watched.Page.WaitForSelectorAsync("html[data-ready='1']");
        return watched;
    }

    public Task InitializeAsync() => Task.CompletedTask;

    public async Task DisposeAsync()
    {
        if (browser is not null)
        {
            await browser.DisposeAsync();
        }

        playwright?.Dispose();
    }
}
