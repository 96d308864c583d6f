using System.Diagnostics;
using Microsoft.Playwright;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Browser.Tests;

/// <summary>The command serving a notebook as a live page, and a session of it.</summary>
/// <param name="notebook">The notebook's name.</param>
public abstract class ServedPage(string notebook) : IAsyncLifetime
{
    private readonly BrowserFixture browsers = new();
    private readonly string data = Directory.CreateTempSubdirectory("postpipeline-live-").FullName;
    private Process? process;
    private string session = string.Empty;
    private string cookieName = string.Empty;

    public Uri Start { get; private set; } = new("http://127.0.0.1/");

    public Uri Page => new(Start.GetLeftPart(UriPartial.Path));

    public string Cookie => $"{cookieName}={session}";

    public async Task InitializeAsync()
    {
        if (BrowserFixture.Executable is null)
        {
            return;
        }

        process = Command.Start("present", notebook, "--port", "0", "--data", data);
        _ = process.StandardError.ReadToEndAsync();
        Start = new(await process.StandardOutput.ReadLineAsync() ?? throw new InvalidOperationException("the page was not served"));
        using HttpClientHandler handler = new() { AllowAutoRedirect = false, UseCookies = false };
        using HttpClient client = new(handler);
        using HttpResponseMessage answer = await client.GetAsync(Start);
        string cookie = answer.Headers.GetValues("Set-Cookie").Single();
        Assert.Contains("httponly", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("samesite=strict", cookie, StringComparison.OrdinalIgnoreCase);
        (cookieName, session) = cookie.Split(';')[0].Split('=') switch { [string name, string value] => (name, value), _ => throw new InvalidOperationException(cookie) };
    }

    internal async Task<Watched> OpenAsync(string query = "", int width = 1280)
    {
        IBrowser browser = await browsers.OpenAsync();
        IBrowserContext context = await browser.NewContextAsync(new() { ViewportSize = new() { Width = width, Height = 900 } });
        await context.AddCookiesAsync([new() { Name = cookieName, Value = session, Domain = "127.0.0.1", Path = "/", HttpOnly = true, SameSite = SameSiteAttribute.Strict }]);
        Watched watched = await Watched.NewAsync(context);
        await watched.Page.GotoAsync(Page + query);
        await watched.Page.WaitForSelectorAsync("html[data-ready='1'][data-settled='1']");
        return watched;
    }

    public async Task DisposeAsync()
    {
        await browsers.DisposeAsync();
        if (process is not null)
        {
            process.Kill(entireProcessTree: true);
            await process.WaitForExitAsync();
            process.Dispose();
        }

        Directory.Delete(data, recursive: true);
    }
}
