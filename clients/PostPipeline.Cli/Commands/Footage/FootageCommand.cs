using System.CommandLine;

namespace PostPipeline.Cli.Commands.Footage;

/// <summary><c>footage</c>: bytes that pictures make.</summary>
internal static class FootageCommand
{
    public static Command Create() => new("footage", "Bytes that pictures make: rates, record times, codings, mixed modes, volumes, takes cut into files.")
    {
        RateVerb.Create(),
        RecordTimesVerb.Create(),
        CodingsVerb.Create(),
        ModesVerb.Create(),
        VolumeVerb.Create(),
        TakesVerb.Create(),
    };
}
