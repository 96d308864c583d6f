using System.Diagnostics;
using System.Net.Http.Json;
using System.Net.WebSockets;
using System.Text;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;

namespace PostPipeline.Notebooks.Tests.Support;

/// <summary>A live notebook server of the distribution, spoken to as its own page does: REST, and a websocket a kernel.</summary>
internal sealed partial class JupyterServer : IAsyncDisposable
{
    private const string Token = "a-token-of-this-test";
    private readonly HttpClient http;
    private readonly StringBuilder log;

    private JupyterServer(Process process, Uri address, StringBuilder log)
    {
        (Process, Address, this.log) = (process, address, log);
        http = new() { BaseAddress = address };
        http.DefaultRequestHeaders.Authorization = new("token", Token);
    }

    public Process Process { get; }

    public Uri Address { get; }

    /// <summary>Starts a server; it says itself when it listens.</summary>
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
        try
        {
            return new(process, await listening.Task, log);
        }
        catch (InvalidOperationException)
        {
            throw new InvalidOperationException($"the server ended: {log}");
        }
    }

    /// <summary>Starts a kernel of ours in the server and connects to it.</summary>
    public async Task<JupyterSession> OpenAsync()
    {
        HttpResponseMessage made = await http.PostAsJsonAsync("api/kernels", new { name = "postpipeline" });
        made.EnsureSuccessStatusCode();
        string kernel = JsonNode.Parse(await made.Content.ReadAsStringAsync())!["id"]!.GetValue<string>();
        ClientWebSocket socket = new();
        socket.Options.SetRequestHeader("Authorization", "token " + Token);
        await socket.ConnectAsync(new($"ws://{Address.Authority}/api/kernels/{kernel}/channels"), default);
        return new(http, socket, kernel, log);
    }

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

        http.Dispose();
        Process.Dispose();
    }

    [GeneratedRegex(@"http://127\.0\.0\.1:\d+(?=/)", RegexOptions.CultureInvariant)]
    private static partial Regex ServerAddress();
}
