using System.CommandLine;

namespace PostPipeline.Cli.Frame;

/// <summary>Options that every verb takes.</summary>
internal static class GlobalOptions
{
    /// <summary>Answer for machines.</summary>
    public static Option<bool> Json { get; } = new("--json")
    {
        Description = "Print one JSON object {schema, result, run} on stdout instead of tables.",
        Recursive = true,
    };

    /// <summary>Services in other processes.</summary>
    public static Option<string[]> Services { get; } = new("--services")
    {
        Description = "Addresses of running services (http://127.0.0.1:5101 …), in any order; without it the services run inside this process.",
        AllowMultipleArgumentsPerToken = true,
        Recursive = true,
        HelpName = "URL",
    };

    /// <summary>Where benchmark sets and models are kept.</summary>
    public static Option<string?> Data { get; } = new("--data")
    {
        Description = "Data folder; else the variable POSTPIPELINE_DATA, else postpipeline under the XDG data home.",
        Recursive = true,
        HelpName = "DIR",
    };

    /// <summary>No progress.</summary>
    public static Option<bool> Quiet { get; } = new("--quiet")
    {
        Description = "No progress and no notes on stderr; errors still stand there.",
        Recursive = true,
    };
}
