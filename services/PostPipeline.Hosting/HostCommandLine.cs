using System.Globalization;
using System.Net;

namespace PostPipeline.Hosting;

/// <summary>What a host's process is told when it starts.</summary>
/// <param name="Endpoint">Where it listens; always loopback.</param>
/// <param name="Settings">What the host is started with.</param>
/// <param name="StopWithInput">Whether it ends when its standard input ends, as a child of a process that may be killed must.</param>
public sealed record HostCommandLine(IPEndPoint Endpoint, HostSettings Settings, bool StopWithInput)
{
    /// <summary>How to call a host.</summary>
    public const string Usage = "usage: [--port N] [--urls http://127.0.0.1:N] [--data DIR] [--stop-with-input]";

    /// <summary>Reads arguments. Where none names an address, the variable ASPNETCORE_URLS does, else the host's usual port.</summary>
    /// <param name="arguments">The process's arguments.</param>
    /// <param name="defaultPort">The host's usual port.</param>
    /// <param name="environmentUrls">The value of ASPNETCORE_URLS.</param>
    /// <exception cref="FormatException">An argument is wrong; the message names it, its value and what is allowed.</exception>
    public static HostCommandLine Parse(IReadOnlyList<string> arguments, int defaultPort, string? environmentUrls)
    {
        IPEndPoint? endpoint = null;
        string? data = null;
        bool stopWithInput = false;
        for (int i = 0; i < arguments.Count; i++)
        {
            string Value() => ++i < arguments.Count ? arguments[i] : throw new FormatException($"{arguments[i - 1]} needs a value; {Usage}");
            switch (arguments[i])
            {
                case "--port":
                    endpoint = new(IPAddress.Loopback, Port("--port", Value()));
                    break;
                case "--urls":
                    endpoint = Address("--urls", Value());
                    break;
                case "--data":
                    data = Value();
                    break;
                case "--stop-with-input":
                    stopWithInput = true;
                    break;
                default:
                    throw new FormatException($"'{arguments[i]}' is not an argument of a host; {Usage}");
            }
        }

        endpoint ??= string.IsNullOrWhiteSpace(environmentUrls) ? new(IPAddress.Loopback, defaultPort) : Address("ASPNETCORE_URLS", environmentUrls);
        return new(endpoint, new() { DataFolder = data }, stopWithInput);
    }

    private static int Port(string name, string text) =>
        int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int port) && port <= IPEndPoint.MaxPort
            ? port
            : throw new FormatException($"{name} is '{text}'; allowed is 0 (any free port) to {IPEndPoint.MaxPort}");

    // Callers are not identified, so a host must not be reachable from another machine.
    private static IPEndPoint Address(string name, string text)
    {
        if (!Uri.TryCreate(text, UriKind.Absolute, out Uri? url) || url.Scheme != Uri.UriSchemeHttp || url.AbsolutePath != "/")
        {
            throw new FormatException($"{name} is '{text}'; allowed is one address such as http://127.0.0.1:5101");
        }

        IPAddress? address = url.Host == "localhost" ? IPAddress.Loopback : IPAddress.TryParse(url.Host.Trim('[', ']'), out IPAddress? parsed) ? parsed : null;
        return address is not null && IPAddress.IsLoopback(address)
            ? new(address, url.Port)
            : throw new FormatException($"{name} is '{text}'; a host listens on loopback only (127.0.0.1, [::1] or localhost), because its callers are not identified");
    }
}
