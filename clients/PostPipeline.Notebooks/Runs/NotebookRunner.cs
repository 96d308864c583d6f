using System.Diagnostics;
using System.Globalization;
using System.IO.Pipes;
using System.Text.Json.Nodes;
using PostPipeline.Notebooks.Documents;

namespace PostPipeline.Notebooks.Runs;

/// <summary>
/// Runs a notebook in a process of its own and gathers what it puts out. Whatever the notebook does — throws, loops for
/// ever, prints without end, exits — the result holds what there was until then and says what happened, and no process stays.
/// </summary>
/// <param name="command">The program and first arguments that start our executable as a worker.</param>
/// <param name="services">Where the cells find the services.</param>
public sealed class NotebookRunner(IReadOnlyList<string> command, ServicePlace services)
{
    /// <summary>A runner on the executable that stands beside this library.</summary>
    /// <param name="services">Where the cells find the services; inside their process where null.</param>
    /// <exception cref="FileNotFoundException">It does not stand there.</exception>
    public static NotebookRunner Beside(ServicePlace? services = null) => new(OwnCommand(), services ?? ServicePlace.Inside);

    /// <summary>The program and first arguments that start our executable.</summary>
    /// <exception cref="FileNotFoundException">It does not stand beside this library.</exception>
    public static IReadOnlyList<string> OwnCommand()
    {
        string library = Path.Combine(AppContext.BaseDirectory, "postpipeline.dll");
        if (!File.Exists(library))
        {
            throw new FileNotFoundException("postpipeline.dll is not beside this program; notebooks run in a process of it", library);
        }

        string own = Environment.ProcessPath ?? "dotnet";
        string host = Path.GetFileNameWithoutExtension(own).Equals("dotnet", StringComparison.OrdinalIgnoreCase) ? own
            : Environment.GetEnvironmentVariable("DOTNET_HOST_PATH") ?? "dotnet";
        return Path.GetFileNameWithoutExtension(own) == "postpipeline" ? [own] : [host, "exec", library];
    }

    /// <summary>Runs a notebook.</summary>
    /// <param name="notebook">The notebook.</param>
    /// <param name="options">Values, time allowed, progress.</param>
    /// <param name="stop">Ends the run; what there is until then is in the result.</param>
    public async Task<RunResult> RunAsync(NotebookFile notebook, RunOptions options, CancellationToken stop = default)
    {
        Gathered gathered = new(notebook, options.Progress);
        using AnonymousPipeServerStream pipe = new(PipeDirection.In, HandleInheritability.Inheritable);
        string mark = Guid.NewGuid().ToString("N");
        using Process process = Start(pipe.GetClientHandleAsString(), mark);
        pipe.DisposeLocalCopyOfClientHandle();
        StreamReader reader = new(pipe);
        Task drained = Task.WhenAll(DrainAsync(process.StandardOutput), DrainAsync(process.StandardError));
        try
        {
            JsonObject job = new()
            {
                ["name"] = notebook.Name,
                ["notebook"] = notebook.Json,
                ["values"] = new JsonObject(options.Values.Select(v => KeyValuePair.Create<string, JsonNode?>(v.Key, JsonValue.Create(v.Value)))),
                ["services"] = new JsonArray([.. services.Addresses.Select(address => JsonValue.Create(address))]),
                ["data"] = services.DataFolder,
            };
            await process.StandardInput.WriteLineAsync(job.ToJsonString()).ConfigureAwait(false);
            await process.StandardInput.FlushAsync(CancellationToken.None).ConfigureAwait(false);
            await ListenAsync(process, reader, gathered, options.Timeout, stop).ConfigureAwait(false);
            if (gathered.IsDone)
            {
                using CancellationTokenSource patience = new(TimeSpan.FromSeconds(5));
                await process.WaitForExitAsync(patience.Token).ConfigureAwait(false);
            }
        }
        catch (OperationCanceledException) when (gathered.IsDone)
        {
            // Something of the notebook keeps its process alive after its last cell; it is ended below.
        }
        catch (IOException) when (!gathered.IsDone)
        {
            // The process went before it took its job; the message below says so.
        }
        finally
        {
            int? code = process.HasExited || (gathered.Broken is null && process.WaitForExit(2_000)) ? process.ExitCode : null;
            if (code is null)
            {
                process.Kill(entireProcessTree: true);
                await process.WaitForExitAsync(CancellationToken.None).ConfigureAwait(false);
            }

            Leftovers.End(mark);
            gathered.Close(code);
        }

        // Only now: closing a pipe waits for a read that is under way, and that read ends when the process does.
        reader.Dispose();
        await drained.ConfigureAwait(false);
        return gathered.Result(Versions.Of(notebook));
    }

    // The worker lives for seconds, and on two cores what the runtime does beside it counts: code is compiled a second time
    // only where it runs often (values in hexadecimal: 256 calls), without being measured first; threads that wait do not
    // spin; memory is collected less often (64 MB at a time) and not beside the run. None of this changes an answer.
    private static readonly (string Name, string Value)[] ShortRun =
    [
        ("DOTNET_TieredPGO", "0"),
        ("DOTNET_TC_CallCountThreshold", "100"),
        ("DOTNET_ThreadPool_UnfairSemaphoreSpinLimit", "0"),
        ("DOTNET_gcConcurrent", "0"),
        ("DOTNET_GCgen0size", "4000000"),
    ];

    private static async Task ListenAsync(Process process, StreamReader reader, Gathered gathered, TimeSpan timeout, CancellationToken stop)
    {
        long cellStart = Stopwatch.GetTimestamp();
        Task<string?> next = ReadAsync(reader);
        Task gone = process.WaitForExitAsync(CancellationToken.None);
        while (true)
        {
            TimeSpan left = timeout - Stopwatch.GetElapsedTime(cellStart);
            Task first = left <= TimeSpan.Zero ? Task.CompletedTask : await Task.WhenAny(next, gone, Task.Delay(left, stop)).ConfigureAwait(false);
            if (ReferenceEquals(first, gone) && !next.IsCompleted)
            {
                // A process that the notebook started holds the pipe open: what was written is read, the end never comes.
                first = await Task.WhenAny(next, Task.Delay(TimeSpan.FromSeconds(1), stop)).ConfigureAwait(false);
                if (!ReferenceEquals(first, next))
                {
                    return;
                }
            }

            if (stop.IsCancellationRequested || (!ReferenceEquals(first, next) && !next.IsCompleted))
            {
                gathered.Broken = stop.IsCancellationRequested ? "The run was stopped" : string.Create(CultureInfo.InvariantCulture, $"No end within {timeout.TotalSeconds:0.#} s; the run was stopped");
                return;
            }

            if (await next.ConfigureAwait(false) is not string line)
            {
                return;
            }

            RunMessage message = RunMessage.OfLine(line);
            if (message is RunMessage.Started or RunMessage.Ended)
            {
                cellStart = Stopwatch.GetTimestamp();
            }

            gathered.Take(message);
            if (gathered.IsDone)
            {
                return;
            }

            next = ReadAsync(reader);
        }
    }

    // Reading a pipe cannot be cancelled everywhere, so it has a thread of its own until the process ends.
    private static Task<string?> ReadAsync(StreamReader reader) => Task.Run(reader.ReadLine);

    private static async Task DrainAsync(StreamReader reader)
    {
        char[] buffer = new char[16_384];
        while (await reader.ReadAsync(buffer).ConfigureAwait(false) > 0)
        {
        }
    }

    private Process Start(string pipe, string mark)
    {
        ProcessStartInfo start = new(command[0]) { RedirectStandardInput = true, RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false };
        foreach (string argument in command.Skip(1).Append(NotebookWorker.Word).Append(pipe))
        {
            start.ArgumentList.Add(argument);
        }

        start.Environment[Leftovers.Variable] = mark;
        foreach ((string name, string value) in ShortRun)
        {
            start.Environment[name] = value;
        }

        return Process.Start(start) ?? throw new InvalidOperationException($"{command[0]} could not be started");
    }
}
