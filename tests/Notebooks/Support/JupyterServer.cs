using System.Diagnostics;
using System.Net.Http.Json;
using System.Net.WebSockets;
using System.Text;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;

namespace PostPipeline.Notebooks.Tests.Support;

/// <summary>A live notebook server of the distribution with our kernel in it, spoken to as its own page does: REST and one websocket.</summary>
internal sealed partial class JupyterServer : IAsyncDisposable
{
    private const string Token = "a-token-of-this-test";
    private readonly HttpClient http;
    private readonly ClientWebSocket socket = new();
    private readonly string session = Guid.NewGuid().ToString("N");
    private readonly byte[] buffer = new byte[65_536];
    private readonly StringBuilder log;
    private string kernel = string.Empty;

    private JupyterServer(Process process, Uri address, StringBuilder log)
    {
        (Process, Address, this.log) = (process, address, log);
        http = new() { BaseAddress = address };
        http.DefaultRequestHeaders.Authorization = new("token", Token);
    }

    public Process Process { get; }

    public Uri Address { get; }

    /// <summary>Starts a server and a kernel in it; the server itself says when it listens.</summary>
    public static async Task<JupyterServer> StartAsync(string program, string folder, IReadOnlyDictionary<string, string> environment)
    {
        ProcessStartInfo start = new(program) { RedirectStandardOutput = true, RedirectStandardError = true, WorkingDirectory = folder };
        foreach (string argument in new[] { "--no-browser", "--allow-root", "--ip=127.0.0.1", $"--NotebookApp.token={Token}", $"--notebook-dir={folder}" })
        {
            start.ArgumentList.Add(argument);
        }

        foreach ((string name, string value) in environment)
        {
            start.Environment[name] = value;
        }

        Process process = Process.Start(start)!;
        StringBuilder log = new();
        TaskCompletionSource<Uri> listening = new(TaskCreationOptions.RunContinuationsAsynchronously);
        void Take(string? line)
        {
            lock (log)
            {
                log.AppendLine(line);
            }

            if (ServerAddress().Match(line ?? string.Empty) is { Success: true } at)
            {
                listening.TrySetResult(new(at.Value + "/"));
            }
        }

        process.OutputDataReceived += (_, line) => Take(line.Data);
        process.ErrorDataReceived += (_, line) => Take(line.Data);
        process.EnableRaisingEvents = true;
        process.Exited += (_, _) => listening.TrySetException(new InvalidOperationException("the server ended"));
        process.BeginOutputReadLine();
        process.BeginErrorReadLine();
        JupyterServer server;
        try
        {
            server = new(process, await listening.Task, log);
        }
        catch (InvalidOperationException)
        {
            throw new InvalidOperationException($"the server ended: {log}");
        }

        HttpResponseMessage made = await server.http.PostAsJsonAsync("api/kernels", new { name = "postpipeline" });
        made.EnsureSuccessStatusCode();
        server.kernel = JsonNode.Parse(await made.Content.ReadAsStringAsync())!["id"]!.GetValue<string>();
        server.socket.Options.SetRequestHeader("Authorization", "token " + Token);
        await server.socket.ConnectAsync(new($"ws://{server.Address.Authority}/api/kernels/{server.kernel}/channels"), default);
        return server;
    }

    /// <summary>Runs a cell to its end, and answers everything that the kernel published for it, and its reply last.</summary>
    /// <param name="code">The code.</param>
    /// <param name="seen">Told of each message as it comes.</param>
    public async Task<IReadOnlyList<JsonObject>> RunAsync(string code, Func<JsonObject, Task>? seen = null)
    {
        string id = Guid.NewGuid().ToString("N");
        JsonObject request = new()
        {
            ["channel"] = "shell",
            ["header"] = new JsonObject { ["msg_id"] = id, ["msg_type"] = "execute_request", ["session"] = session, ["username"] = "test", ["version"] = "5.3", ["date"] = "2027-01-01T00:00:00Z" },
            ["parent_header"] = new JsonObject(),
            ["metadata"] = new JsonObject(),
            ["content"] = new JsonObject { ["code"] = code, ["silent"] = false, ["store_history"] = true, ["user_expressions"] = new JsonObject(), ["allow_stdin"] = false, ["stop_on_error"] = true },
            ["buffers"] = new JsonArray(),
        };
        await socket.SendAsync(Encoding.UTF8.GetBytes(request.ToJsonString()), WebSocketMessageType.Text, true, default);
        List<JsonObject> published = [];
        JsonObject? reply = null;
        bool idle = false;
        while (reply is null || !idle)
        {
            JsonObject message = await ReceiveAsync();
            if (message["parent_header"]?["msg_id"]?.GetValue<string>() != id)
            {
                continue;
            }

            string type = message["msg_type"]!.GetValue<string>();
            idle |= type == "status" && message["content"]!["execution_state"]!.GetValue<string>() == "idle";
            reply = type == "execute_reply" ? message : reply;
            published.Add(message);
            if (seen is not null)
            {
                await seen(message);
            }
        }

        return [.. published.Where(m => m != reply), reply];
    }

    /// <summary>Interrupts the kernel as the button of the page does.</summary>
    public async Task InterruptAsync() => (await http.PostAsync($"api/kernels/{kernel}/interrupt", null)).EnsureSuccessStatusCode();

    public async ValueTask DisposeAsync()
    {
        try
        {
            await http.PostAsync("api/shutdown", null);
            using CancellationTokenSource patience = new(TimeSpan.FromSeconds(30));
            await Process.WaitForExitAsync(patience.Token);
        }
        catch (Exception problem) when (problem is HttpRequestException or OperationCanceledException)
        {
            Process.Kill(entireProcessTree: true);
        }

        socket.Dispose();
        http.Dispose();
        Process.Dispose();
    }

    private async Task<JsonObject> ReceiveAsync()
    {
        using MemoryStream text = new();
        ValueWebSocketReceiveResult part;
        do
        {
            part = await socket.ReceiveAsync(buffer.AsMemory(), default);
            text.Write(buffer, 0, part.Count);
        }
        while (!part.EndOfMessage);
        return part.MessageType == WebSocketMessageType.Text
            ? (JsonObject)JsonNode.Parse(text.ToArray())!
            : throw new InvalidOperationException($"the server closed the socket: {log}");
    }

    [GeneratedRegex(@"http://127\.0\.0\.1:\d+(?=/)", RegexOptions.CultureInvariant)]
    private static partial Regex ServerAddress();
}
