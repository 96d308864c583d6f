using System.CommandLine;

namespace PostPipeline.Cli.Commands.Footage;

/// <summary><c>offload</c>: from the camera to verified copies, tapes and other places.</summary>
internal static class OffloadCommand
{
    public static Command Create() => new("offload", "From the camera to verified copies: the day card by card, cards in rotation, evidence, tapes, ways to send.")
    {
        DayVerb.Create(),
        CardsVerb.Create(),
        EvidenceVerb.Release(),
        TapesVerb.Create(),
        SendVerb.Create(),
        DigestVerb.Create(),
    };
}
