using System.Diagnostics;
using Microsoft.Playwright;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Browser.Tests;

/// <summary>The command serving a notebook as a live page, waited for by the first test that needs it.</summary>
public sealed class ServedPage : IAsyncDisposable
{
    private readonly string data = Directory.CreateTempSubdirectory("postpipeline-live-").FullName;
    private Process? process;
    private Task ready = Task.CompletedTask;
    private Watched? tab;
    private string session = string.Empty;
    private string cookieName = string.Empty;

    private ServedPage()
    {
    }

    /// <summary>The address that the command printed, with its token.</summary>
    public Uri StartAddress { get; private set; } = new("http://127.0.0.1/");

    /// <summary>The address of the page.</summary>
    public Uri Page => new(StartAddress.GetLeftPart(UriPartial.Path));

    /// <summary>The session's cookie, as a browser sends it.</summary>
    public string Cookie => $"{cookieName}={session}";

    /// <summary>Starts the command, where there is a browser to look at it.</summary>
    /// <param name="notebook">The notebook's name.</param>
    /// <param name="values">Further arguments.</param>
    public static ServedPage Start(string notebook, params string[] values)
    {
        ServedPage page = new();
        if (BrowserFixture.Executable is not null)
        {
            page.process = Command.Start(["present", notebook, "--port", "0", "--data", page.data, .. values]);
            page.ready = page.ConnectAsync(page.process);
        }

        return page;
    }

    /// <summary>Ends when the page is served and a session is open.</summary>
    public Task ReadyAsync() => ready;

    /// <summary>How many charts the server sends with the page.</summary>
    public async Task<int> ChartsAsync()
    {
        await ReadyAsync();
        using HttpClientHandler handler = new() { UseCookies = false };
        using HttpClient client = new(handler);
        client.DefaultRequestHeaders.Add("Cookie", Cookie);
        return (await client.GetStringAsync(Page)).Split("<script type=\"application/json\" class=\"figure\">").Length - 1;
    }

    /// <summary>
    /// The page, computed and drawn, its inputs moved to values. One tab serves all tests, and it loads one address: the browser
    /// then compiles the scripts once, which is most of what opening a page takes.
    /// </summary>
    /// <param name="browsers">The browser.</param>
    /// <param name="values">What is typed into the numbers, such as rate=240; the others stay as the last test left them.</param>
    /// <param name="width">Of the window, in CSS pixels.</param>
    internal async Task<Watched> OpenAsync(BrowserFixture browsers, string values = "", int width = 1280)
    {
        Watched watched = await OpenAddressAsync(browsers, string.Empty, width);
        string[][] pairs = [.. values.Split('&', StringSplitOptions.RemoveEmptyEntries).Select(pair => pair.Split('='))];
        foreach (string[] pair in pairs)
        {
            ILocator number = watched.Page.Locator($"[data-parameter={pair[0]}] input[type=number]");
            await number.FillAsync(pair[1]);
            await number.DispatchEventAsync("change");
        }

        await watched.Page.WaitForFunctionAsync("pairs => document.documentElement.dataset.settled === '1' && pairs.every(([name, value]) => document.querySelector(`[data-parameter=${name}]`).dataset.value === value)", pairs);
        return watched;
    }

    /// <summary>The page as an address of it opens, computed and drawn.</summary>
    /// <param name="browsers">The browser.</param>
    /// <param name="query">What follows the page in the address.</param>
    /// <param name="width">Of the window, in CSS pixels.</param>
    internal async Task<Watched> OpenAddressAsync(BrowserFixture browsers, string query, int width = 1280)
    {
        IBrowser browser = await browsers.OpenAsync();
        await ReadyAsync();
        if (tab is null)
        {
            IBrowserContext context = await browser.NewContextAsync();
            await context.AddCookiesAsync([new() { Name = cookieName, Value = session, Domain = "127.0.0.1", Path = "/", HttpOnly = true, SameSite = SameSiteAttribute.Strict }]);
            tab = await Watched.NewAsync(context, kept: true);
        }

        await tab.Page.SetViewportSizeAsync(width, 900);
        tab.Begin();
        await tab.Page.GotoAsync(Page + query);
        await tab.Page.WaitForSelectorAsync("html[data-ready='1'][data-settled='1']");
        return tab;
    }

    /// <summary>Closes the tab, while the browser is there; the browser closes those that are left.</summary>
    public Task CloseTabAsync() => tab?.Page.Context.CloseAsync() ?? Task.CompletedTask;

    public async ValueTask DisposeAsync()
    {
        if (process is not null)
        {
            process.Kill(entireProcessTree: true);
            await process.WaitForExitAsync();
            process.Dispose();
        }

        Directory.Delete(data, recursive: true);
    }

    private async Task ConnectAsync(Process served)
    {
        Task<string> errors = served.StandardError.ReadToEndAsync();
        StartAddress = new(await served.StandardOutput.ReadLineAsync() ?? throw new InvalidOperationException("the page was not served: " + await errors));
        using HttpClientHandler handler = new() { AllowAutoRedirect = false, UseCookies = false };
        using HttpClient client = new(handler);
        using HttpResponseMessage answer = await client.GetAsync(StartAddress);
        string cookie = answer.Headers.GetValues("Set-Cookie").Single();
        Assert.Contains("httponly", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("samesite=strict", cookie, StringComparison.OrdinalIgnoreCase);
        (cookieName, session) = cookie.Split(';')[0].Split('=') switch { [string name, string value] => (name, value), _ => throw new InvalidOperationException(cookie) };
    }
}
