using System.Net;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.Extensions;
using Microsoft.Extensions.Logging;

namespace PostPipeline.Notebooks.Live;

/// <summary>
/// Serves one live page on loopback. Every request must name this host, come from this page or from nowhere, and carry the
/// session's cookie, which the start token opens once. The page sends parameter values and never code.
/// </summary>
public sealed class LiveServer : IAsyncDisposable
{
    private readonly WebApplication application;
    private readonly StartToken token;
    private readonly LiveSockets sockets;
    private readonly LiveNotebook notebook;

    private LiveServer(WebApplication application, StartToken token, LiveSockets sockets, LiveNotebook notebook) =>
        (this.application, this.token, this.sockets, this.notebook) = (application, token, sockets, notebook);

    /// <summary>The address of the page with its token, for the browser that is to open it.</summary>
    public Uri StartAddress => new(Address, "?token=" + token.Value);

    /// <summary>The address of the page.</summary>
    public Uri Address { get; private set; } = new("http://127.0.0.1/");

    // A browser keeps cookies by host without the port: each process needs a name of its own, or two pages end each other's sessions.
    private string Cookie => "postpipeline-session-" + Address.Port.ToString(System.Globalization.CultureInfo.InvariantCulture);

    /// <summary>Starts serving.</summary>
    /// <param name="notebook">The notebook.</param>
    /// <param name="port">A port on loopback; 0 for a free one.</param>
    /// <param name="stop">Gives up.</param>
    /// <exception cref="IOException">The port is taken.</exception>
    public static async Task<LiveServer> StartAsync(LiveNotebook notebook, int port, CancellationToken stop = default)
    {
        CellConsole.Install();
        WebApplicationBuilder builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.ConfigureKestrel(kestrel =>
        {
            kestrel.Listen(IPAddress.Loopback, port);
            kestrel.Limits.MaxRequestBodySize = 0;
            kestrel.Limits.MaxConcurrentConnections = 64;
        });
        WebApplication application = builder.Build();
        LiveServer server = new(application, new(), new(notebook), notebook);
        application.UseWebSockets();
        application.Run(server.AnswerAsync);
        await application.StartAsync(stop).ConfigureAwait(false);
        server.Address = new(application.Urls.First().TrimEnd('/') + "/");
        return server;
    }

    /// <summary>Ends when the server stops.</summary>
    /// <param name="stop">Stops it.</param>
    public async Task WaitAsync(CancellationToken stop)
    {
        TaskCompletionSource ended = new();
        await using CancellationTokenRegistration asked = stop.Register(() => ended.TrySetResult());
        await using CancellationTokenRegistration stopping = application.Lifetime.ApplicationStopping.Register(() => ended.TrySetResult());
        await ended.Task.ConfigureAwait(false);
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        sockets.Close();
        using CancellationTokenSource patience = new(TimeSpan.FromSeconds(2));
        await application.StopAsync(patience.Token).ConfigureAwait(false);
        await application.DisposeAsync().ConfigureAwait(false);
        sockets.Dispose();
        notebook.Dispose();
    }

    private async Task AnswerAsync(HttpContext http)
    {
        string own = $"{Address.Host}:{Address.Port}";
        string alias = $"localhost:{Address.Port}";
        string host = http.Request.Host.Value ?? string.Empty;
        string? origin = http.Request.Headers.Origin;
        http.Response.Headers.XContentTypeOptions = "nosniff";
        http.Response.Headers.CacheControl = "no-store";
        http.Response.Headers["Cross-Origin-Opener-Policy"] = "same-origin";
        http.Response.Headers["Cross-Origin-Resource-Policy"] = "same-origin";
        http.Response.Headers.XFrameOptions = "DENY";
        if (host != own && host != alias)
        {
            await RefuseAsync(http, 421, "This page answers on its loopback address only.").ConfigureAwait(false);
        }
        else if (origin is not null && origin != $"http://{host}")
        {
            await RefuseAsync(http, 403, "Requests from other pages are refused.").ConfigureAwait(false);
        }
        else if (http.Request.Path == "/" && http.Request.Query.ContainsKey("token"))
        {
            await OpenAsync(http).ConfigureAwait(false);
        }
        else if (!token.IsSession(http.Request.Cookies[Cookie]))
        {
            await RefuseAsync(http, 403, "No session: open the address that the command printed, once. A token opens one session and is then spent.").ConfigureAwait(false);
        }
        else if (http.Request.Path == "/live" && http.WebSockets.IsWebSocketRequest)
        {
            if (origin is null)
            {
                await RefuseAsync(http, 403, "A socket must say where it comes from.").ConfigureAwait(false);
                return;
            }

            await sockets.TalkAsync(await http.WebSockets.AcceptWebSocketAsync().ConfigureAwait(false), http.RequestAborted).ConfigureAwait(false);
        }
        else if (http.Request.Path == "/" && HttpMethods.IsGet(http.Request.Method))
        {
            http.Response.ContentType = "text/html; charset=utf-8";
            await http.Response.WriteAsync(LivePage.Of(notebook, $"ws://{own} ws://{alias}")).ConfigureAwait(false);
        }
        else
        {
            await RefuseAsync(http, 404, "There is one page here, at /.").ConfigureAwait(false);
        }
    }

    // The token leaves the address bar at once; the values in the address stay.
    private Task OpenAsync(HttpContext http)
    {
        if (token.Spend(http.Request.Query["token"]) is not string session)
        {
            return RefuseAsync(http, 403, "This token is wrong or spent. Start the page again to get a new one.");
        }

        http.Response.Cookies.Append(Cookie, session, new() { HttpOnly = true, SameSite = SameSiteMode.Strict, Path = "/" });
        QueryBuilder values = new(http.Request.Query.Where(q => q.Key != "token").Select(q => KeyValuePair.Create(q.Key, q.Value.ToString())));
        http.Response.Redirect("/" + values.ToQueryString());
        return Task.CompletedTask;
    }

    private static Task RefuseAsync(HttpContext http, int status, string why)
    {
        http.Response.StatusCode = status;
        http.Response.ContentType = "text/plain; charset=utf-8";
        return http.Response.WriteAsync(why);
    }
}
