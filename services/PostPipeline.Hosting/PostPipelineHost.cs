using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Server.Kestrel.Core;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;

namespace PostPipeline.Hosting;

/// <summary>
/// Runs one host as a process: HTTP/2 without TLS on loopback, the log on stderr, one line with its address on stdout.
/// </summary>
/// <remarks>
/// The application starts from the empty builder: no settings file that happens to lie in the working directory and
/// no variable of the environment can open an address that was not asked for.
/// </remarks>
public static class PostPipelineHost
{
    /// <summary>Exit code: stopped in order.</summary>
    public const int Stopped = 0;

    /// <summary>Exit code: an argument is wrong.</summary>
    public const int BadUsage = 2;

    /// <summary>Exit code: could not start, for example because the port is taken.</summary>
    public const int CouldNotStart = 3;

    /// <summary>Runs a host until it is stopped.</summary>
    /// <param name="host">The host.</param>
    /// <param name="arguments">The process's arguments; see <see cref="HostCommandLine"/>.</param>
    /// <param name="cancellationToken">Stops the host, as SIGINT and SIGTERM do.</param>
    /// <returns>The process's exit code.</returns>
    public static async Task<int> RunAsync(HostDefinition host, IReadOnlyList<string> arguments, CancellationToken cancellationToken = default)
    {
        HostCommandLine line;
        try
        {
            line = HostCommandLine.Parse(arguments, host.DefaultPort, Environment.GetEnvironmentVariable("ASPNETCORE_URLS"));
        }
        catch (FormatException problem)
        {
            await Console.Error.WriteLineAsync($"{host.Name}: {problem.Message}").ConfigureAwait(false);
            return BadUsage;
        }

        await using WebApplication application = Build(host, line);
        try
        {
            await application.StartAsync(cancellationToken).ConfigureAwait(false);
        }
        catch (IOException problem)
        {
            await Console.Error.WriteLineAsync($"{host.Name}: {problem.Message}").ConfigureAwait(false);
            return CouldNotStart;
        }

        await Console.Out.WriteLineAsync($"{host.Name} listens on {application.Urls.Single()}").ConfigureAwait(false);
        if (line.StopWithInput)
        {
            _ = StopWithInputAsync(application.Lifetime);
        }

        await application.WaitForShutdownAsync(cancellationToken).ConfigureAwait(false);
        return Stopped;
    }

    /// <summary>Builds a host that is ready to start.</summary>
    /// <param name="host">The host.</param>
    /// <param name="line">What it is told.</param>
    public static WebApplication Build(HostDefinition host, HostCommandLine line)
    {
        WebApplicationBuilder builder = WebApplication.CreateEmptyBuilder(new());
        builder.WebHost.UseKestrelCore().ConfigureKestrel(kestrel =>
        {
            kestrel.AddServerHeader = false;
            kestrel.Listen(line.Endpoint, listen => listen.Protocols = HttpProtocols.Http2);
        });
        builder.Logging.AddSimpleConsole(console => console.SingleLine = true);
        builder.Services.Configure<Microsoft.Extensions.Logging.Console.ConsoleLoggerOptions>(console => console.LogToStandardErrorThreshold = LogLevel.Trace);
        builder.Logging.SetMinimumLevel(LogLevel.Information).AddFilter("Microsoft", LogLevel.Warning).AddFilter("Grpc", LogLevel.Warning);
        builder.Services.AddRoutingCore();
        builder.Services.AddPostPipelineHost(host, line.Settings);
        WebApplication application = builder.Build();
        application.UseRouting();
        application.MapPostPipelineHost(host);
        return application;
    }

    private static async Task StopWithInputAsync(IHostApplicationLifetime lifetime)
    {
        char[] ignored = new char[256];
        while (await Console.In.ReadAsync(ignored.AsMemory()).ConfigureAwait(false) > 0)
        {
        }

        lifetime.StopApplication();
    }
}
