using System.Text.Json.Nodes;
using System.Threading.Channels;
using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp;
using NetMQ;
using NetMQ.Sockets;
using PostPipeline.Notebooks.Documents;
using PostPipeline.Notebooks.Engines;
using PostPipeline.Notebooks.Pages;
using PostPipeline.Notebooks.Parameters;
using PostPipeline.Notebooks.Rendering;
using PostPipeline.Notebooks.Runs;

namespace PostPipeline.Notebooks.Jupyter;

/// <summary>
/// A Jupyter kernel (messaging protocol 5.3) on loopback over the same engine as headless runs. One thread owns the
/// sockets; cells run on another, so that an interrupt is heard while one runs.
/// </summary>
public sealed class JupyterKernel : IDisposable
{
    private const string Interrupted = "interrupt";

    private readonly ConnectionFile connection;
    private readonly InteractiveEngine engine;
    private readonly RouterSocket shell = new();
    private readonly RouterSocket control = new();
    private readonly RouterSocket input = new();
    private readonly PublisherSocket output = new();
    private readonly ResponseSocket heartbeat = new();
    private readonly NetMQQueue<(NetMQSocket Socket, NetMQMessage Message)> outbox = new();
    private readonly Channel<KernelMessage> requests = Channel.CreateUnbounded<KernelMessage>();
    private readonly NetMQPoller poller;
    private readonly Lock gate = new();
    private CancellationTokenSource running = new();
    private int count;
    private bool librarySent;

    /// <summary>A kernel that is not yet listening.</summary>
    /// <param name="connection">Where to listen.</param>
    /// <param name="setup">What cells can use without asking.</param>
    public JupyterKernel(ConnectionFile connection, CellSetup setup)
    {
        this.connection = connection;
        engine = new(setup);
        poller = [shell, control, heartbeat, outbox];
        foreach ((NetMQSocket socket, int port) in new (NetMQSocket, int)[] { (shell, connection.Shell), (control, connection.Control), (input, connection.Input), (output, connection.Output), (heartbeat, connection.Heartbeat) })
        {
            socket.Options.Linger = TimeSpan.FromSeconds(1);
            socket.Bind($"tcp://{connection.Address}:{port}");
        }

        shell.ReceiveReady += (_, _) => Receive(shell, message => requests.Writer.TryWrite(message));
        control.ReceiveReady += (_, _) => Receive(control, Command);
        heartbeat.ReceiveReady += (_, _) => heartbeat.SendMultipartMessage(heartbeat.ReceiveMultipartMessage());
        outbox.ReceiveReady += (_, _) =>
        {
            while (outbox.TryDequeue(out (NetMQSocket Socket, NetMQMessage Message) next, TimeSpan.Zero))
            {
                next.Socket.SendMultipartMessage(next.Message);
            }
        };
    }

    /// <summary>Answers requests until it is asked to shut down.</summary>
    /// <param name="stop">Shuts it down too.</param>
    public async Task RunAsync(CancellationToken stop = default)
    {
        using CancellationTokenRegistration registration = stop.Register(() =>
        {
            Interrupt();
            requests.Writer.TryComplete();
        });
        poller.RunAsync("jupyter sockets");
        // Stopping completes the channel, so that the requests already taken are still answered.
        await foreach (KernelMessage request in requests.Reader.ReadAllAsync(CancellationToken.None).ConfigureAwait(false))
        {
            Status(request, "busy");
            await AnswerAsync(request).ConfigureAwait(false);
            Status(request, "idle");
        }

        // What is still in the outbox goes out before the sockets close.
        await Task.Delay(300, CancellationToken.None).ConfigureAwait(false);
        poller.Stop();
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        poller.Dispose();
        foreach (NetMQSocket socket in new NetMQSocket[] { shell, control, input, output, heartbeat })
        {
            socket.Dispose();
        }

        outbox.Dispose();
        engine.Dispose();
        running.Dispose();
    }

    private void Receive(RouterSocket socket, Action<KernelMessage> take)
    {
        if (KernelMessage.Read(socket.ReceiveMultipartMessage(), connection.Key) is { } message)
        {
            take(message);
        }
    }

    private void Command(KernelMessage request)
    {
        Status(request, "busy");
        switch (request.Type)
        {
            case "interrupt_request":
                Interrupt();
                Send(control, request.Answer("interrupt_reply", new() { ["status"] = "ok" }));
                break;
            case "shutdown_request":
                ShutDown(request, control);
                break;
            case "kernel_info_request":
                Send(control, request.Answer("kernel_info_reply", Info()));
                break;
        }

        Status(request, "idle");
    }

    private async Task AnswerAsync(KernelMessage request)
    {
        switch (request.Type)
        {
            case "kernel_info_request":
                Send(shell, request.Answer("kernel_info_reply", Info()));
                break;
            case "execute_request":
                await ExecuteAsync(request).ConfigureAwait(false);
                break;
            case "is_complete_request":
                SyntaxTree tree = CSharpSyntaxTree.ParseText(request.Content["code"]!.GetValue<string>(), new CSharpParseOptions(kind: SourceCodeKind.Script));
                Send(shell, request.Answer("is_complete_reply", new() { ["status"] = SyntaxFactory.IsCompleteSubmission(tree) ? "complete" : "incomplete", ["indent"] = string.Empty }));
                break;
            case "complete_request":
                await CompleteAsync(request).ConfigureAwait(false);
                break;
            case "inspect_request":
                Send(shell, request.Answer("inspect_reply", new() { ["status"] = "ok", ["found"] = false, ["data"] = new JsonObject(), ["metadata"] = new JsonObject() }));
                break;
            case "history_request":
                Send(shell, request.Answer("history_reply", new() { ["status"] = "ok", ["history"] = new JsonArray() }));
                break;
            case "comm_info_request":
                Send(shell, request.Answer("comm_info_reply", new() { ["status"] = "ok", ["comms"] = new JsonObject() }));
                break;
            case "shutdown_request":
                ShutDown(request, shell);
                break;
        }
    }

    private async Task ExecuteAsync(KernelMessage request)
    {
        string code = request.Content["code"]!.GetValue<string>();
        CancellationToken stop;
        lock (gate)
        {
            running = new();
            stop = running.Token;
        }

        count++;
        Publish(request, "execute_input", new() { ["code"] = code, ["execution_count"] = count });
        CellOutput.Error? error = null;
        OutputGate outputs = new(produced =>
        {
            // How an interrupted cell ended is said once, below.
            if (produced is not CellOutput.Error { Kind: not Interrupted } || !stop.IsCancellationRequested)
            {
                error ??= produced as CellOutput.Error;
                Publish(request, produced);
            }
        });
        bool fine;
        Task<bool>? cell = null;
        try
        {
            using Timer flush = new(_ => outputs.Flush(), null, 100, 100);
            cell = Task.Run(() => engine.RunAsync(Interruptible.Of(code), count, new(outputs.Take, new ParameterSet(), stop)), CancellationToken.None);
            fine = await cell.WaitAsync(stop).ConfigureAwait(false);
        }
        catch (OperationCanceledException)
        {
            fine = false;

            // The next cell must not begin before this one has ended. One that hangs inside a single call cannot be ended from here.
            bool ended = await Task.WhenAny(cell!, Task.Delay(5_000, CancellationToken.None)).ConfigureAwait(false) == cell;
            outputs.Take(new CellOutput.Error(Interrupted, ended ? "The cell was interrupted." : "The cell was interrupted, but it hangs inside a call that does not end; restart the kernel to end it.", null, []));
        }

        outputs.Flush();
        JsonObject reply = new() { ["status"] = fine ? "ok" : "error", ["execution_count"] = count, ["user_expressions"] = new JsonObject(), ["payload"] = new JsonArray() };
        if (!fine)
        {
            (reply["ename"], reply["evalue"], reply["traceback"]) = (error?.Kind ?? "error", error?.Message ?? string.Empty, new JsonArray());
        }

        Send(shell, request.Answer("execute_reply", reply));
    }

    private async Task CompleteAsync(KernelMessage request)
    {
        string code = request.Content["code"]!.GetValue<string>();
        int cursor = Math.Min(request.Content["cursor_pos"]!.GetValue<int>(), code.Length);
        int start = cursor;
        while (start > 0 && (char.IsLetterOrDigit(code[start - 1]) || code[start - 1] == '_'))
        {
            start--;
        }

        IReadOnlyList<string> found = await engine.CompleteAsync(code, cursor).ConfigureAwait(false);
        string begun = code[start..cursor];
        Send(shell, request.Answer("complete_reply", new()
        {
            ["status"] = "ok",
            ["matches"] = new JsonArray([.. found.Where(f => f.StartsWith(begun, StringComparison.OrdinalIgnoreCase)).Take(200).Select(f => JsonValue.Create(f))]),
            ["cursor_start"] = start,
            ["cursor_end"] = cursor,
            ["metadata"] = new JsonObject(),
        }));
    }

    private void Publish(KernelMessage request, CellOutput produced)
    {
        if (!librarySent && produced is CellOutput.Value { Bundle: var bundle } && bundle[MimeBundle.Figure] is not null)
        {
            librarySent = true;
            Publish(request, new CellOutput.Value(new(new Dictionary<string, string> { [MimeBundle.Html] = FigureHtml.Library(), [MimeBundle.PlainText] = "plotly.js " + PageAssets.PlotlyVersion }), false));
        }

        JsonObject json = OutputJson.ToNotebook(produced is CellOutput.Error error ? error with { Trace = [$"{(error.Line is int line ? $"line {line}: " : string.Empty)}{error.Message}", .. error.Trace] } : produced, count, forViewer: true);
        string type = json["output_type"]!.GetValue<string>();
        json.Remove("output_type");
        Publish(request, type, json);
    }

    private void ShutDown(KernelMessage request, RouterSocket socket)
    {
        Send(socket, request.Answer("shutdown_reply", new() { ["status"] = "ok", ["restart"] = request.Content["restart"]?.GetValue<bool>() ?? false }));
        Interrupt();
        requests.Writer.TryComplete();
    }

    // Not on this thread: what waits for the token must not run among the sockets.
    private void Interrupt()
    {
        lock (gate)
        {
            _ = running.CancelAsync();
        }
    }

    private static JsonObject Info() => new()
    {
        ["status"] = "ok",
        ["protocol_version"] = "5.3",
        ["implementation"] = "postpipeline",
        ["implementation_version"] = "0.1.0",
        ["banner"] = "PostPipeline, C#",
        ["help_links"] = new JsonArray(),
        ["language_info"] = new JsonObject { ["name"] = "C#", ["version"] = "14.0", ["mimetype"] = "text/x-csharp", ["file_extension"] = ".cs", ["pygments_lexer"] = "csharp", ["codemirror_mode"] = "text/x-csharp" },
    };

    private void Status(KernelMessage request, string state) => Publish(request, "status", new() { ["execution_state"] = state });

    private void Publish(KernelMessage request, string type, JsonObject content) => outbox.Enqueue((output, request.Answer(type, content).Write(connection.Key, type)));

    private void Send(RouterSocket socket, KernelMessage message) => outbox.Enqueue((socket, message.Write(connection.Key)));
}
