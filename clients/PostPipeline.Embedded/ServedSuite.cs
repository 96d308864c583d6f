using System.Collections.Immutable;
using System.Diagnostics;
using System.Globalization;
using System.Reflection;
using PostPipeline.Hosting;

namespace PostPipeline.Embedded;

/// <summary>Runs the services as processes of their own, for callers that name a service and a port.</summary>
public static class ServedSuite
{
    private static readonly TimeSpan TimeToStop = TimeSpan.FromSeconds(5);

    /// <summary>The names of the services.</summary>
    public static ImmutableArray<string> Names { get; } = [.. EmbeddedSuite.Hosts.Select(host => host.Name)];

    /// <summary>Runs one service in this process until it is stopped.</summary>
    /// <param name="name">One of <see cref="Names"/>.</param>
    /// <param name="port">The port on loopback; 0 for a free one, null for the usual one.</param>
    /// <param name="dataFolder">The data folder; null for the usual places.</param>
    /// <param name="stopWithInput">Whether it ends when standard input ends.</param>
    /// <param name="cancellationToken">Stops it.</param>
    /// <returns>The process's exit code.</returns>
    public static Task<int> ServeAsync(string name, int? port, string? dataFolder, bool stopWithInput, CancellationToken cancellationToken)
    {
        List<string> arguments = [];
        Add(arguments, "--port", port?.ToString(CultureInfo.InvariantCulture));
        Add(arguments, "--data", dataFolder);
        if (stopWithInput)
        {
            arguments.Add("--stop-with-input");
        }

        return PostPipelineHost.RunAsync(EmbeddedSuite.Hosts.Single(host => host.Name == name), arguments, cancellationToken);
    }

    /// <summary>
    /// Runs every service as a child of this process. A child ends when its standard input ends, so that none outlives
    /// this process, however it ends.
    /// </summary>
    /// <param name="firstPort">The port of the first service, the others take the next ones; 0 for free ports, null for the usual ones.</param>
    /// <param name="dataFolder">The data folder; null for the usual places.</param>
    /// <param name="output">Takes the children's addresses.</param>
    /// <param name="cancellationToken">Stops them.</param>
    /// <returns>The exit code of the child that ended first, 0 where they were stopped.</returns>
    public static async Task<int> ServeAllAsync(int? firstPort, string? dataFolder, TextWriter output, CancellationToken cancellationToken)
    {
        List<Process> children = [];
        try
        {
            for (int i = 0; i < Names.Length; i++)
            {
                Process child = Start(Names[i], firstPort is > 0 ? firstPort + i : firstPort, dataFolder);
                children.Add(child);
                _ = RelayAsync(child, output);
            }

            Task<int>[] ends = [.. children.Select(EndAsync)];
            Task first = await Task.WhenAny([.. ends, Task.Delay(Timeout.InfiniteTimeSpan, cancellationToken)]).ConfigureAwait(false);
            return first is Task<int> ended ? await ended.ConfigureAwait(false) : PostPipelineHost.Stopped;
        }
        finally
        {
            await StopAsync(children).ConfigureAwait(false);
        }
    }

    private static Process Start(string name, int? port, string? dataFolder)
    {
        string program = Environment.ProcessPath ?? throw new InvalidOperationException("This process has no path, so it cannot start another of its kind.");
        ProcessStartInfo start = new(program) { RedirectStandardInput = true, RedirectStandardOutput = true };
        if (Path.GetFileNameWithoutExtension(program) == "dotnet")
        {
            start.ArgumentList.Add(Assembly.GetEntryAssembly()!.Location);
        }

        start.ArgumentList.Add("serve");
        start.ArgumentList.Add(name);
        start.ArgumentList.Add("--stop-with-input");
        Add(start.ArgumentList, "--port", port?.ToString(CultureInfo.InvariantCulture));
        Add(start.ArgumentList, "--data", dataFolder);
        return Process.Start(start)!;
    }

    private static void Add(ICollection<string> arguments, string option, string? value)
    {
        if (value is not null)
        {
            arguments.Add(option);
            arguments.Add(value);
        }
    }

    private static async Task RelayAsync(Process child, TextWriter output)
    {
        while (await child.StandardOutput.ReadLineAsync().ConfigureAwait(false) is { } line)
        {
            await output.WriteLineAsync(line).ConfigureAwait(false);
            await output.FlushAsync().ConfigureAwait(false);
        }
    }

    private static async Task<int> EndAsync(Process child)
    {
        await child.WaitForExitAsync().ConfigureAwait(false);
        return child.ExitCode;
    }

    private static async Task StopAsync(List<Process> children)
    {
        children.ForEach(child => child.StandardInput.Close());
        using CancellationTokenSource patience = new(TimeToStop);
        foreach (Process child in children)
        {
            try
            {
                await child.WaitForExitAsync(patience.Token).ConfigureAwait(false);
            }
            catch (OperationCanceledException)
            {
                child.Kill();
            }

            child.Dispose();
        }
    }
}
