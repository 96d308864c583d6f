using System.Diagnostics;
using Microsoft.Playwright;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Browser.Tests;

/// <summary>The command serving a notebook as a live page, started with the first test and waited for by the first that needs it.</summary>
/// <param name="notebook">The notebook's name.</param>
/// <param name="values">Further arguments.</param>
public abstract class ServedPage(string notebook, params string[] values) : IAsyncLifetime
{
    private readonly string data = Directory.CreateTempSubdirectory("postpipeline-live-").FullName;
    private Process? process;
    private Task? ready;
    private string session = string.Empty;
    private string cookieName = string.Empty;

    public Uri Start { get; private set; } = new("http://127.0.0.1/");

    public Uri Page => new(Start.GetLeftPart(UriPartial.Path));

    public string Cookie => $"{cookieName}={session}";

    public Task InitializeAsync()
    {
        if (BrowserFixture.Executable is not null)
        {
            process = Command.Start(["present", notebook, "--port", "0", "--data", data, .. values]);
            ready = ConnectAsync(process);
        }

        return Task.CompletedTask;
    }

    /// <summary>Ends when the page is served and a session is open.</summary>
    public Task ReadyAsync() => ready ?? Task.CompletedTask;

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

    public async Task DisposeAsync()
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
        Start = new(await served.StandardOutput.ReadLineAsync() ?? throw new InvalidOperationException("the page was not served: " + await errors));
        using HttpClientHandler handler = new() { AllowAutoRedirect = false, UseCookies = false };
        using HttpClient client = new(handler);
        using HttpResponseMessage answer = await client.GetAsync(Start);
        string cookie = answer.Headers.GetValues("Set-Cookie").Single();
        Assert.Contains("httponly", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("samesite=strict", cookie, StringComparison.OrdinalIgnoreCase);
        (cookieName, session) = cookie.Split(';')[0].Split('=') switch { [string name, string value] => (name, value), _ => throw new InvalidOperationException(cookie) };
    }
}
