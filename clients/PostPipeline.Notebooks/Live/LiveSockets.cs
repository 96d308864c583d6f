using System.Net.WebSockets;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Threading.Channels;
using PostPipeline.Notebooks.Parameters;

namespace PostPipeline.Notebooks.Live;

/// <summary>The open pages of one live notebook: each may set parameters, all see what comes of it.</summary>
internal sealed class LiveSockets(LiveNotebook notebook) : IDisposable
{
    private const int LongestMessage = 16_384;
    private readonly Lock gate = new();
    private readonly List<Channel<string>> pages = [];
    private readonly CancellationTokenSource closing = new();

    /// <summary>Ends every conversation.</summary>
    public void Close() => closing.Cancel();

    /// <inheritdoc/>
    public void Dispose() => closing.Dispose();

    /// <summary>Talks with one page until it goes.</summary>
    public async Task TalkAsync(WebSocket socket, CancellationToken gone)
    {
        using CancellationTokenSource either = CancellationTokenSource.CreateLinkedTokenSource(gone, closing.Token);

        // A page that does not read falls behind; the newest outputs are what it needs, so the oldest are dropped.
        Channel<string> outbox = Channel.CreateBounded<string>(new BoundedChannelOptions(1_000) { FullMode = BoundedChannelFullMode.DropOldest });
        lock (gate)
        {
            pages.Add(outbox);
        }

        Task sending = SendAsync(socket, outbox.Reader, either.Token);
        try
        {
            await ListenAsync(socket, outbox, either.Token).ConfigureAwait(false);
        }
        catch (Exception problem) when (problem is OperationCanceledException or WebSocketException)
        {
            // The page was closed or the server stops: nothing is left to say.
        }
        finally
        {
            lock (gate)
            {
                pages.Remove(outbox);
            }

            outbox.Writer.TryComplete();
            await either.CancelAsync().ConfigureAwait(false);
            await sending.ConfigureAwait(false);
        }
    }

    private async Task ListenAsync(WebSocket socket, Channel<string> outbox, CancellationToken stop)
    {
        byte[] buffer = new byte[LongestMessage];
        while (true)
        {
            int length = 0;
            WebSocketReceiveResult part;
            do
            {
                part = await socket.ReceiveAsync(new ArraySegment<byte>(buffer, length, buffer.Length - length), stop).ConfigureAwait(false);
                length += part.Count;
            }
            while (!part.EndOfMessage && length < buffer.Length);

            if (part.MessageType == WebSocketMessageType.Close || !part.EndOfMessage)
            {
                WebSocketCloseStatus status = part.EndOfMessage ? WebSocketCloseStatus.NormalClosure : WebSocketCloseStatus.MessageTooBig;
                await socket.CloseOutputAsync(status, null, stop).ConfigureAwait(false);
                return;
            }

            if (Read(buffer.AsSpan(0, length)) is { } values)
            {
                _ = SetAsync(values, outbox);
            }
            else
            {
                outbox.Writer.TryWrite(Refused("a message that sets no parameters; allowed is {\"set\": {name: value as text}}"));
            }
        }
    }

    private async Task SetAsync(IReadOnlyDictionary<string, string> values, Channel<string> asker)
    {
        try
        {
            await notebook.SetAsync(values, happened => Tell(Write(happened))).ConfigureAwait(false);
        }
        catch (ParameterException problem)
        {
            asker.Writer.TryWrite(Refused(problem.Message));
        }
        catch (Exception problem) when (problem is not OperationCanceledException)
        {
            // Whatever went wrong, whoever asked must not wait for ever.
            asker.Writer.TryWrite(Refused($"the change was not carried out: {problem.Message}"));
        }
    }

    private void Tell(string message)
    {
        lock (gate)
        {
            pages.ForEach(page => page.Writer.TryWrite(message));
        }
    }

    private static async Task SendAsync(WebSocket socket, ChannelReader<string> messages, CancellationToken stop)
    {
        try
        {
            await foreach (string message in messages.ReadAllAsync(stop).ConfigureAwait(false))
            {
                await socket.SendAsync(Encoding.UTF8.GetBytes(message), WebSocketMessageType.Text, true, stop).ConfigureAwait(false);
            }
        }
        catch (Exception problem) when (problem is OperationCanceledException or WebSocketException or ObjectDisposedException)
        {
            // The page is gone.
        }
    }

    private static Dictionary<string, string>? Read(ReadOnlySpan<byte> message)
    {
        try
        {
            return JsonNode.Parse(message) is JsonObject { Count: 1 } json && json["set"] is JsonObject set && set.All(v => v.Value is JsonValue value && value.GetValueKind() == JsonValueKind.String)
                ? set.ToDictionary(v => v.Key, v => v.Value!.GetValue<string>())
                : null;
        }
        catch (Exception problem) when (problem is JsonException or ArgumentException)
        {
            return null;
        }
    }

    private static string Refused(string message) => new JsonObject { ["kind"] = "refused", ["message"] = message }.ToJsonString();

    private static string Write(LiveEvent happened) => (happened switch
    {
        LiveEvent.Busy busy => new JsonObject { ["kind"] = "busy", ["cell"] = busy.Cell },
        LiveEvent.Shown shown => new JsonObject { ["kind"] = "shown", ["cell"] = shown.Cell, ["html"] = shown.Html },
        LiveEvent.Settled settled => new JsonObject { ["kind"] = "settled", ["values"] = new JsonObject(settled.Values.Select(v => KeyValuePair.Create<string, JsonNode?>(v.Key, JsonValue.Create(v.Value)))), ["milliseconds"] = settled.Milliseconds },
        _ => throw new InvalidOperationException("unknown event"),
    }).ToJsonString();
}
