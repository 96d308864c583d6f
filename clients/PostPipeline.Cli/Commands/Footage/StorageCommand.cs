using System.CommandLine;

namespace PostPipeline.Cli.Commands.Footage;

/// <summary><c>storage</c>: generations over time, disks, streams, seats, power.</summary>
internal static class StorageCommand
{
    public static Command Create() => new("storage", "Storage over time by tier; disks, streams, seats, power; evidence before a purge.")
    {
        PlanVerb.Create(),
        DisksVerb.Create(),
        StreamsVerb.Create(),
        SeatVerb.Create(),
        PowerVerb.Create(),
        EvidenceVerb.Purge(),
    };
}
