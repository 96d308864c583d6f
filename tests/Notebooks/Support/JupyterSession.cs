using System.Net.WebSockets;
using System.Text;
using System.Text.Json.Nodes;

namespace PostPipeline.Notebooks.Tests.Support;

/// <summary>One kernel of ours in a live server, and the socket to it; the kernel ends with it.</summary>
internal sealed class JupyterSession(HttpClient http, ClientWebSocket socket, string kernel, StringBuilder log) : IAsyncDisposable
{
    private readonly string session = Guid.NewGuid().ToString("N");
    private readonly byte[] buffer = new byte[65_536];

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
        (await http.DeleteAsync($"api/kernels/{kernel}")).EnsureSuccessStatusCode();
        socket.Dispose();
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
}
