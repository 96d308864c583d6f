using System.CommandLine;
using PostPipeline.Cli.Frame;
using PostPipeline.Embedded;

namespace PostPipeline.Cli.Commands;

/// <summary><c>serve</c>: runs services as processes of their own on loopback.</summary>
internal static class ServeCommand
{
    private static readonly Argument<string> Which = new("which")
    {
        Description = "timecode, footage, rendering or all.",
        DefaultValueFactory = _ => "all",
    };

    private static readonly Option<int?> Port = new("--port")
    {
        Description = "Port on loopback; the other services take the next ones. 0 for free ports; without it each service's usual port.",
        HelpName = "N",
    };

    private static readonly Option<bool> StopWithInput = new("--stop-with-input")
    {
        Description = "End when standard input ends.",
        Hidden = true,
    };

    public static Command Create()
    {
        Which.AcceptOnlyFromAmong([.. ServedSuite.Names, "all"]);
        return new Command("serve", "Run services as processes of their own on loopback, until Ctrl-C.") { Which, Port, StopWithInput }.Runs(session =>
        {
            int? port = session.Line.GetValue(Port);
            if (port is < 0 or > ushort.MaxValue - 2)
            {
                throw new InputException(InputProblem.Of("--port", $"{port}", $"allowed is 0 (free ports) to {ushort.MaxValue - 2}"));
            }

            string which = session.Line.GetValue(Which)!;
            return which == "all"
                ? ServedSuite.ServeAllAsync(port, session.DataFolder, session.Line.InvocationConfiguration.Output, session.Cancellation)
                : ServedSuite.ServeAsync(which, port, session.DataFolder, session.Line.GetValue(StopWithInput), session.Cancellation);
        });
    }
}
