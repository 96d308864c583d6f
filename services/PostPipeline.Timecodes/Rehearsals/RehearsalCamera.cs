using PostPipeline.Timecodes.Generators;
using PostPipeline.Timecodes.OffSpeed;

namespace PostPipeline.Timecodes.Rehearsals;

/// <summary>What is set on one camera, and what is known of it.</summary>
public sealed record RehearsalCamera
{
    /// <summary>The camera's name in the plan.</summary>
    public required string Name { get; init; }

    /// <summary>How its labels run.</summary>
    public TimecodeRun Run { get; init; }

    /// <summary>How it labels off speed; unknown means that every behaviour is tried.</summary>
    public OffSpeedLabelling OffSpeedLabelling { get; init; } = OffSpeedLabelling.Unknown;

    /// <summary>Rate and numbering of its labels.</summary>
    public required TimecodeFormat Base { get; init; }

    /// <summary>Where its proxies come from.</summary>
    public ProxyOrigin Proxies { get; init; }

    /// <summary>Whether its proxies share frame count, start label, rate, drop flag and name stem with the originals; null where nobody knows.</summary>
    public bool? ProxyMatches { get; init; }

    /// <summary>Whether it can record proxies off speed; null where nobody knows. Only asked where they come from the camera.</summary>
    public bool? ProxyOffSpeed { get; init; }

    /// <summary>Drift against the other cameras' clocks, in parts per million, 0 or more.</summary>
    public double DriftPartsPerMillion { get; init; }

    /// <summary>Hours between two jam syncs; 0 means never in a day.</summary>
    public double JamSyncHours { get; init; }
}
