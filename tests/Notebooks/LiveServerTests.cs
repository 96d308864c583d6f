using System.Net;
using System.Net.Http.Headers;
using System.Net.Sockets;
using System.Text;
using PostPipeline.Notebooks.Documents;
using PostPipeline.Notebooks.Engines;
using PostPipeline.Notebooks.Live;
using PostPipeline.Notebooks.Parameters;
using PostPipeline.Notebooks.Tests.Support;
using Xunit;

namespace PostPipeline.Notebooks.Tests;

/// <summary>The door of a live page, asked without a browser.</summary>
public sealed class LiveServerTests : IAsyncLifetime
{
    private static readonly HttpClient Client = new(new HttpClientHandler { AllowAutoRedirect = false, UseCookies = false });
    private LiveServer server = null!;

    public async Task InitializeAsync() => server = await StartAsync();

    public async Task DisposeAsync() => await server.DisposeAsync();

    [Fact]
    public async Task Token_UsedTwice_IsSpentAndTheFirstSessionGoesOn()
    {
        string cookie = await SessionAsync(server);
        using HttpResponseMessage again = await Client.GetAsync(server.StartAddress);
        Assert.Equal(HttpStatusCode.Forbidden, again.StatusCode);
        Assert.False(again.Headers.Contains("Set-Cookie"));
        using HttpResponseMessage page = await GetAsync(server.Address, cookie);
        Assert.Equal(HttpStatusCode.OK, page.StatusCode);
    }

    // RFC 6265bis: HttpOnly keeps a cookie from scripts, SameSite=Strict from requests that other sites cause.
    [Fact]
    public async Task Cookie_IsHttpOnlyAndStrictAndTheTokenLeavesTheAddress()
    {
        using HttpResponseMessage answer = await Client.GetAsync(server.StartAddress + "&a=20");
        string cookie = answer.Headers.GetValues("Set-Cookie").Single();
        Assert.Contains("httponly", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("samesite=strict", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("domain=", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Equal("/?a=20", answer.Headers.Location!.ToString());
    }

    // A browser keeps cookies by host, whatever the port (RFC 6265, section 8.5): two pages must not take each other's.
    [Fact]
    public async Task Cookie_OfTwoPagesAtOnce_HasTwoNamesAndNeitherOpensTheOther()
    {
        await using LiveServer second = await StartAsync();
        string first = await SessionAsync(server);
        string other = await SessionAsync(second);
        Assert.NotEqual(first.Split('=')[0], other.Split('=')[0]);
        using HttpResponseMessage both = await GetAsync(server.Address, $"{first}; {other}");
        Assert.Equal(HttpStatusCode.OK, both.StatusCode);
        using HttpResponseMessage crossed = await GetAsync(server.Address, other);
        Assert.Equal(HttpStatusCode.Forbidden, crossed.StatusCode);
    }

    [Theory]
    [InlineData("GET / HTTP/1.1", "Host: attacker.example", "", 421)]
    [InlineData("GET / HTTP/1.1", "Host: OWN", "Origin: http://attacker.example", 403)]
    [InlineData("GET / HTTP/1.1", "Host: OWN", "Origin: null", 403)]
    [InlineData("GET /live HTTP/1.1", "Host: attacker.example", "Origin: http://attacker.example", 421)]
    [InlineData("GET /live HTTP/1.1", "Host: OWN", "Origin: http://attacker.example", 403)]
    [InlineData("GET /live HTTP/1.1", "Host: OWN", "", 403)]
    [InlineData("GET /live HTTP/1.1", "Host: OWN", "Origin: http://OWN", 101)]
    [InlineData("GET /other HTTP/1.1", "Host: OWN", "", 404)]
    [InlineData("POST / HTTP/1.1", "Host: OWN", "Origin: http://OWN", 404)]
    public async Task Request_OrSocket_IsTakenOnlyFromThisHostAndOrigin(string request, string host, string origin, int expected)
    {
        string cookie = await SessionAsync(server);
        string upgrade = request.Contains("/live", StringComparison.Ordinal) ? "Connection: Upgrade\r\nUpgrade: websocket\r\nSec-WebSocket-Version: 13\r\nSec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==\r\n" : string.Empty;
        string text = $"{request}\r\n{host}\r\n{(origin.Length > 0 ? origin + "\r\n" : string.Empty)}Cookie: {cookie}\r\n{upgrade}\r\n".Replace("OWN", server.Address.Authority, StringComparison.Ordinal);
        using TcpClient line = new();
        await line.ConnectAsync(IPAddress.Loopback, server.Address.Port);
        NetworkStream stream = line.GetStream();
        await stream.WriteAsync(Encoding.ASCII.GetBytes(text));
        byte[] answer = new byte[256];
        int length = await stream.ReadAsync(answer);
        Assert.StartsWith($"HTTP/1.1 {expected} ", Encoding.ASCII.GetString(answer, 0, length), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Page_CarriesAPolicyThatAllowsItsOwnScriptsAndSocketOnly()
    {
        using HttpResponseMessage page = await GetAsync(server.Address, await SessionAsync(server));
        string html = await page.Content.ReadAsStringAsync();
        Assert.Contains("default-src &#39;none&#39;; script-src &#39;sha256-", html, StringComparison.Ordinal);
        Assert.Contains($"connect-src ws://{server.Address.Authority}", html, StringComparison.Ordinal);
        Assert.Equal("nosniff", page.Headers.GetValues("X-Content-Type-Options").Single());
        Assert.Equal("DENY", page.Headers.GetValues("X-Frame-Options").Single());
        Assert.Equal("no-store", page.Headers.GetValues("Cache-Control").Single());
    }

    // A cell in a process of its own threads cannot be ended from outside; the page must say so and not hang.
    [Fact]
    public async Task Change_WhileACellDoesNotEnd_IsRefusedWithAReason()
    {
        // The cell itself says that it is inside, and ends when the test lets it: no race, however slow the machine.
        string gate = Guid.NewGuid().ToString();
        TaskCompletionSource inside = new(TaskCreationOptions.RunContinuationsAsynchronously);
        using ManualResetEventSlim letGo = new();
        AppDomain.CurrentDomain.SetData(gate, (Action)(() =>
        {
            inside.TrySetResult();
            letGo.Wait();
        }));
        NotebookFile notebook = TestNotebook.Of(
            ("code", "var a = Parameter.Number(\"a\", 0, min: 0, max: 100);", [NotebookCell.ParametersTag]),
            ("code", $"if (a == 1) {{ ((Action)AppDomain.CurrentDomain.GetData(\"{gate}\"))(); }}\n$\"a is {{a}}\"", []));
        using LiveNotebook live = await LiveNotebook.OpenAsync(CellSetup.Basic, notebook, new Dictionary<string, string>());
        TimeSpan usual = live.Patience;
        live.Patience = TimeSpan.FromMilliseconds(300);
        Task<bool> stuck = live.SetAsync(new Dictionary<string, string> { ["a"] = "1" }, _ => { });
        await inside.Task;
        ParameterException problem = await Assert.ThrowsAsync<ParameterException>(() => live.SetAsync(new Dictionary<string, string> { ["a"] = "2" }, _ => { }));
        Assert.Contains("has not ended", problem.Message, StringComparison.Ordinal);
        letGo.Set();
        await stuck;
        live.Patience = usual;
        Assert.True(await live.SetAsync(new Dictionary<string, string> { ["a"] = "3" }, _ => { }));
        Assert.Contains("a is 3", live.ShownBy(1), StringComparison.Ordinal);
    }

    private static async Task<LiveServer> StartAsync()
    {
        NotebookFile notebook = TestNotebook.Of(("code", "var a = Parameter.Number(\"a\", 10, min: 0, max: 90);", [NotebookCell.ParametersTag]), ("code", "$\"a is {a}\"", []));
        return await LiveServer.StartAsync(await LiveNotebook.OpenAsync(CellSetup.Basic, notebook, new Dictionary<string, string>()), 0);
    }

    private static async Task<string> SessionAsync(LiveServer of)
    {
        using HttpResponseMessage answer = await Client.GetAsync(of.StartAddress);
        return answer.Headers.GetValues("Set-Cookie").Single().Split(';')[0];
    }

    private static async Task<HttpResponseMessage> GetAsync(Uri address, string cookie)
    {
        using HttpRequestMessage request = new(HttpMethod.Get, address);
        request.Headers.Add("Cookie", cookie);
        request.Headers.Accept.Add(new MediaTypeWithQualityHeaderValue("text/html"));
        return await Client.SendAsync(request);
    }
}
