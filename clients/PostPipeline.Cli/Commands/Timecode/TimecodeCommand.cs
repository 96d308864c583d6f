using System.CommandLine;

namespace PostPipeline.Cli.Commands.Timecode;

/// <summary><c>timecode</c>: labels, frame numbers and what can be computed with them.</summary>
internal static class TimecodeCommand
{
    public static Command Create() => new("timecode", "Labels and frames: read, write, add, measure, convert; drift, off-speed clips, sync, linear timecode.")
    {
        LabelVerb.Create(),
        FrameVerb.Create(),
        AddVerb.Create(),
        DurationVerb.Create(),
        ConvertVerb.Create(),
        DriftVerb.Create(),
        OffSpeedVerb.Create(),
        JamVerb.Create(),
        LtcVerb.Create(),
    };
}
