using System.Diagnostics;
using System.Globalization;
using System.Net.WebSockets;
using System.Text;
using PostPipeline.Embedded;
using PostPipeline.Notebooks;
using PostPipeline.Notebooks.Documents;
using PostPipeline.Notebooks.Engines;
using PostPipeline.Notebooks.Live;

namespace PostPipeline.Benchmarks.Pages;

/// <summary>Ten thousand moves over the socket of a served page: whether code is added and memory grows, and how long a move takes without a browser.</summary>
internal static class ManyMoves
{
    private const int WarmUp = 1_000;
    private const int Moves = 10_000;

    /// <summary>Makes the moves.</summary>
    /// <returns>Whether no assembly was added and memory grew by less than it may.</returns>
    public static async Task<bool> MeasureAsync()
    {
        bool kept;
        string folder = Directory.CreateTempSubdirectory("postpipeline-moves-").FullName;
        await using (EmbeddedSuite suite = EmbeddedSuite.InFolder(folder))
        {
            Suite.Use(_ => Task.FromResult(suite.Clients));
            CellSetup cells = CellSetup.Basic.With([typeof(PostPipeline.Client.SuiteClients).Assembly, typeof(PostPipeline.Studies.StudyModel).Assembly, typeof(PostPipeline.Quantities.Rational).Assembly], ["PostPipeline.Notebooks.Comparisons", "PostPipeline.Notebooks.Lessons"]);
            LiveNotebook notebook = await LiveNotebook.OpenAsync(cells, NotebookFile.Inside("recording-and-bursts"), new Dictionary<string, string>());
            await using LiveServer server = await LiveServer.StartAsync(notebook, 0);
            using ClientWebSocket page = await ConnectAsync(server);
            await MoveAsync(page, WarmUp);
            (int assemblies, long before) = (Compiled(), WorkingSet());
            long began = Stopwatch.GetTimestamp();
            await MoveAsync(page, Moves);
            double milliseconds = Stopwatch.GetElapsedTime(began).TotalMilliseconds / Moves;
            (int added, double grown) = (Compiled() - assemblies, (WorkingSet() - before) / 1e6);
            kept = added == 0 && grown < 50;
            Console.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"live page recording-and-bursts: {Moves} moves over its socket after {WarmUp} to warm up: {added} assemblies added (wanted: 0), working set {grown:+0.0;-0.0} MB (wanted: under 50), {milliseconds:F1} ms a move without a browser{(kept ? string.Empty : "; NOT KEPT")}"));
        }

        Directory.Delete(folder, recursive: true);
        return kept;
    }

    private static async Task<ClientWebSocket> ConnectAsync(LiveServer server)
    {
        using HttpClientHandler handler = new() { AllowAutoRedirect = false, UseCookies = false };
        using HttpClient client = new(handler);
        using HttpResponseMessage answer = await client.GetAsync(server.StartAddress);
        ClientWebSocket socket = new();
        socket.Options.SetRequestHeader("Cookie", answer.Headers.GetValues("Set-Cookie").Single().Split(';')[0]);
        socket.Options.SetRequestHeader("Origin", server.Address.GetLeftPart(UriPartial.Authority));
        await socket.ConnectAsync(new($"ws://{server.Address.Authority}/live"), CancellationToken.None);
        return socket;
    }

    private static async Task MoveAsync(ClientWebSocket page, int moves)
    {
        byte[] buffer = new byte[65_536];
        byte[] settled = Encoding.UTF8.GetBytes("{\"kind\":\"settled\"");
        for (int i = 0; i < moves; i++)
        {
            await page.SendAsync(Encoding.UTF8.GetBytes($"{{\"set\":{{\"rate\":\"{100 + (i % 200)}\"}}}}"), WebSocketMessageType.Text, true, CancellationToken.None);
            bool done = false;
            while (!done)
            {
                WebSocketReceiveResult part = await page.ReceiveAsync(buffer, CancellationToken.None);
                done = buffer.AsSpan(0, part.Count).StartsWith(settled);
                while (!part.EndOfMessage)
                {
                    part = await page.ReceiveAsync(buffer, CancellationToken.None);
                }
            }
        }
    }

    // What a cell is compiled into lives in memory, without a file.
    private static int Compiled() => AppDomain.CurrentDomain.GetAssemblies().Count(a => a.IsDynamic || a.Location.Length == 0);

    private static long WorkingSet()
    {
        GC.Collect();
        GC.WaitForPendingFinalizers();
        GC.Collect();
        return Environment.WorkingSet;
    }
}
