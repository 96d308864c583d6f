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

    internal async Task<Watched> OpenAsync(BrowserFixture browsers, string query = "", int width = 1280)
    {
        IBrowser browser = await browsers.OpenAsync();
        await ReadyAsync();
        IBrowserContext context = await browser.NewContextAsync(new() { ViewportSize = new() { Width = width, Height = 900 } });
        await context.AddCookiesAsync([new() { Name = cookieName, Value = session, Domain = "127.0.0.1", Path = "/", HttpOnly = true, SameSite = SameSiteAttribute.Strict }]);
        Watched watched = await Watched.NewAsync(context);
        await watched.Page.GotoAsync(Page + query);
        await watched.Page.WaitForSelectorAsync("html[data-ready='1'][data-settled='1']");
        return watched;
    }

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
