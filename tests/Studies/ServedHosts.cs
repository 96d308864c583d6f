using System.Diagnostics;
using PostPipeline.Embedded;

namespace PostPipeline.Studies.Tests;

/// <summary>The three services as processes of their own on free loopback ports, each with a data folder of its own.</summary>
internal sealed class ServedHosts : IDisposable
{
    private readonly List<Process> hosts = [];

    private ServedHosts()
    {
    }

    /// <summary>Where they answer.</summary>
    public List<string> Addresses { get; } = [];

    /// <summary>Starts them and waits until each has said its address.</summary>
    /// <param name="folder">Where their data folders lie.</param>
    public static async Task<ServedHosts> StartAsync(string folder)
    {
        ServedHosts served = new();
        try
        {
            foreach (string name in ServedSuite.Names)
            {
                served.hosts.Add(Command(folder, "serve", name, "--port", "0", "--stop-with-input", "--data", Path.Combine(folder, name)));
            }

            foreach (Process host in served.hosts)
            {
                string line = await host.StandardOutput.ReadLineAsync().WaitAsync(TimeSpan.FromMinutes(2)) ?? string.Empty;
                served.Addresses.Add(line.Split(' ')[^1]);
            }

            return served;
        }
        catch
        {
            served.Dispose();
            throw;
        }
    }

    /// <summary>Starts the command in a process of its own.</summary>
    /// <param name="folder">Its working directory.</param>
    /// <param name="arguments">Its arguments.</param>
    public static Process Command(string folder, params string[] arguments)
    {
        ProcessStartInfo start = new("dotnet", [Path.Combine(AppContext.BaseDirectory, "postpipeline.dll"), .. arguments])
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            WorkingDirectory = folder,
        };
        return Process.Start(start)!;
    }

    public void Dispose()
    {
        foreach (Process host in hosts)
        {
            host.StandardInput.Close();
            if (!host.WaitForExit(10_000))
            {
                host.Kill(entireProcessTree: true);
            }

            host.Dispose();
        }
    }
}
