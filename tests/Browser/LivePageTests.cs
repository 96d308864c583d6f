using System.Net;
using System.Net.WebSockets;
using System.Text;
using Microsoft.Playwright;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Browser.Tests;

/// <summary>The live page as a class sees it, and as somebody sees it who should not.</summary>
[Collection(LiveCollection.Name)]
public sealed class LivePageTests(BrowserFixture browsers, LivePages live)
{
    private const string Answer = "section.cell .said";

    [SkippableFact]
    public async Task Slider_MovedByKeyboardAndByMouse_ChangesTheChartAndTheAddress()
    {
        await using Watched watched = await live.OpenAsync(browsers, "recording-and-bursts", "rate=240");
        IPage page = watched.Page;
        string before = await watched.FirstChartAsync();
        ILocator slider = page.Locator("#in-rate");
        await slider.FocusAsync();
        await page.Keyboard.PressAsync("ArrowRight");
        await page.WaitForFunctionAsync("() => location.search.includes('rate=241') && document.documentElement.dataset.settled === '1'");
        string byKeyboard = await watched.FirstChartAsync();
        Assert.NotEqual(before, byKeyboard);

        LocatorBoundingBoxResult box = (await slider.BoundingBoxAsync())!;
        await page.Mouse.ClickAsync(box.X + (box.Width * 0.9f), box.Y + (box.Height / 2));
        await page.WaitForFunctionAsync("() => Number(new URLSearchParams(location.search).get('rate')) > 400 && document.documentElement.dataset.settled === '1'");
        Assert.NotEqual(byKeyboard, await watched.FirstChartAsync());

        await page.Locator("[data-live=back]").ClickAsync();
        await page.WaitForFunctionAsync("() => location.search.includes('rate=241') && document.documentElement.dataset.settled === '1'");
        Assert.Equal(byKeyboard, await watched.FirstChartAsync());
    }

    [SkippableFact]
    public async Task Window_Dragged_MovesTheTrigger()
    {
        await using Watched watched = await live.OpenAsync(browsers, "recording-and-bursts", "trigger=0.5");
        IPage page = watched.Page;
        await page.WaitForSelectorAsync(".pp-plot.draggable");
        LocatorBoundingBoxResult box = (await page.Locator(".pp-plot.draggable").First.BoundingBoxAsync())!;
        await page.Mouse.MoveAsync(box.X + 200, box.Y + 200);
        await page.Mouse.DownAsync();
        await page.Mouse.MoveAsync(box.X + 120, box.Y + 200, new() { Steps = 4 });
        await page.Mouse.UpAsync();
        await page.WaitForFunctionAsync("() => Number(new URLSearchParams(location.search).get('trigger')) > 0.55 && document.documentElement.dataset.settled === '1'");
    }

    [SkippableFact]
    public async Task Changes_TwoInQuickSuccession_EndInTheLaterState()
    {
        await using Watched watched = await live.OpenAsync(browsers, "recording-and-bursts");
        IPage page = watched.Page;
        await page.EvaluateAsync("""
            () => { const s = document.querySelector('#in-buffer');
              for (const v of ['8', '40', '64']) { s.value = v; s.dispatchEvent(new Event('input', { bubbles: true })); } }
            """);
        await page.WaitForFunctionAsync("() => location.search.includes('buffer=64') && document.documentElement.dataset.settled === '1'");
        Assert.Contains("buffer 64 GB", await watched.FirstChartAsync(), StringComparison.Ordinal);
    }

    [SkippableFact]
    public async Task Address_WithValues_OpensInThatStateAndResetLeavesIt()
    {
        await using Watched watched = await Served.OpenAddressAsync(browsers, "?rate=24&raster=2048+%C3%97+1080");
        IPage page = watched.Page;
        await page.WaitForFunctionAsync("sel => document.querySelector(sel).textContent.includes('Within the ceiling')", Answer);
        Assert.Equal("24", await page.Locator("[data-parameter=rate] input[type=number]").InputValueAsync());
        await page.Locator("[data-live=freeze]").ClickAsync();
        await page.Locator("[data-live=reset]").ClickAsync();
        await page.WaitForFunctionAsync("sel => document.querySelector(sel).textContent.includes('A burst of')", "#main " + Answer);
        Assert.Contains("Within the ceiling", await page.Locator(".beside " + Answer).First.TextContentAsync(), StringComparison.Ordinal);
        await page.WaitForFunctionAsync("() => location.search === '' && document.documentElement.dataset.settled === '1'");
    }

    [SkippableTheory]
    [InlineData("?token=wrong", null, null, true, HttpStatusCode.Forbidden)]
    [InlineData("SPENT", null, null, false, HttpStatusCode.Forbidden)]
    [InlineData("", null, null, false, HttpStatusCode.Forbidden)]
    [InlineData("", "attacker.example", null, true, HttpStatusCode.MisdirectedRequest)]
    [InlineData("", null, "http://attacker.example", true, HttpStatusCode.Forbidden)]
    [InlineData("", null, "null", true, HttpStatusCode.Forbidden)]
    [InlineData("", null, null, true, HttpStatusCode.OK)]
    public async Task Request_WithoutTheRightTokenHostOriginOrCookie_IsRefused(string query, string? host, string? origin, bool cookie, HttpStatusCode expected)
    {
        Outside.Need(BrowserFixture.Executable is not null, "no Chromium is installed");
        await Served.ReadyAsync();
        using HttpClientHandler handler = new() { AllowAutoRedirect = false, UseCookies = false };
        using HttpClient client = new(handler);
        using HttpRequestMessage request = new(HttpMethod.Get, query == "SPENT" ? Served.StartAddress : new Uri(Served.Page + query));
        request.Headers.Host = host;
        if (origin is not null)
        {
            request.Headers.Add("Origin", origin);
        }

        if (cookie)
        {
            request.Headers.Add("Cookie", Served.Cookie);
        }

        using HttpResponseMessage answer = await client.SendAsync(request);
        Assert.Equal(expected, answer.StatusCode);
    }

    [SkippableFact]
    public async Task Socket_FromAForeignOriginOrWithoutCookie_IsRefused()
    {
        Outside.Need(BrowserFixture.Executable is not null, "no Chromium is installed");
        await Served.ReadyAsync();
        foreach ((string? origin, string? cookie) in new (string?, string?)[] { ("http://attacker.example", Served.Cookie), (null, Served.Cookie), (Own, null) })
        {
            using ClientWebSocket socket = new();
            await Assert.ThrowsAsync<WebSocketException>(() => ConnectAsync(socket, origin, cookie));
        }
    }

    [SkippableTheory]
    [InlineData("{\"set\":{\"rate\":\"9999\"}}", "a number from 24 to 480")]
    [InlineData("{\"set\":{\"rate\":\"fast\"}}", "a number from 24 to 480")]
    [InlineData("{\"set\":{\"rate\":\"24;Environment.Exit(1)\"}}", "a number from 24 to 480")]
    [InlineData("{\"set\":{\"drains\":\"sideways\"}}", "one of while recording, only after, unknown")]
    [InlineData("{\"set\":{\"nothing\":\"1\"}}", "is not declared in the notebook")]
    [InlineData("{\"run\":\"1+1\"}", "a message that sets no parameters")]
    [InlineData("not json", "a message that sets no parameters")]
    public async Task Socket_ValuesThatAreNotAllowed_AreRefusedNamingTheAllowed(string message, string expected)
    {
        Outside.Need(BrowserFixture.Executable is not null, "no Chromium is installed");
        await Served.ReadyAsync();
        using ClientWebSocket socket = new();
        await ConnectAsync(socket, Own, Served.Cookie);
        await socket.SendAsync(Encoding.UTF8.GetBytes(message), WebSocketMessageType.Text, true, CancellationToken.None);
        byte[] buffer = new byte[65_536];
        WebSocketReceiveResult answer = await socket.ReceiveAsync(buffer, CancellationToken.None);
        string text = Encoding.UTF8.GetString(buffer, 0, answer.Count);
        Assert.Contains("\"refused\"", text, StringComparison.Ordinal);
        Assert.Contains(expected, text, StringComparison.Ordinal);
    }

    private ServedPage Served => live.Of("recording-and-bursts");

    private string Own => Served.Page.GetLeftPart(UriPartial.Authority);

    private Task ConnectAsync(ClientWebSocket socket, string? origin, string? cookie)
    {
        if (origin is not null)
        {
            socket.Options.SetRequestHeader("Origin", origin);
        }

        if (cookie is not null)
        {
            socket.Options.SetRequestHeader("Cookie", cookie);
        }

        return socket.ConnectAsync(new Uri($"ws://{Served.Page.Authority}/live"), CancellationToken.None);
    }
}
