namespace PostPipeline.Timecodes.Conforming;

/// <summary>What else is to be known about an event, whatever its class.</summary>
[Flags]
public enum ConformFindings
{
    /// <summary>Nothing.</summary>
    None = 0,

    /// <summary>The match rests on rung 3 or 4, or on labels of a proxy that are not those of its original: a person confirms it.</summary>
    ToConfirm = 1 << 0,

    /// <summary>There are fewer frames than asked for before or behind the event.</summary>
    HandlesShort = 1 << 1,

    /// <summary>The speed is stated.</summary>
    SpeedStated = 1 << 2,

    /// <summary>Source and record sides differ in length and nothing says why.</summary>
    SpeedInferred = 1 << 3,

    /// <summary>The source runs backwards.</summary>
    Reverse = 1 << 4,

    /// <summary>One frame is held.</summary>
    Freeze = 1 << 5,

    /// <summary>The motion line enters the source elsewhere than the event does.</summary>
    EntryDiffers = 1 << 6,

    /// <summary>The frames run over midnight.</summary>
    OverMidnight = 1 << 7,

    /// <summary>The event was cut from a proxy and led to its original.</summary>
    ThroughProxy = 1 << 8,

    /// <summary>The clip has no labels: only a person can place the event.</summary>
    NoLabels = 1 << 9,

    /// <summary>The clip was recorded off speed.</summary>
    OffSpeedClip = 1 << 10,

    /// <summary>No range can be taken out of the file, so the whole file is pulled.</summary>
    NotTrimmable = 1 << 11,

    /// <summary>Whether a range can be taken out of the file is unknown.</summary>
    TrimmableUnknown = 1 << 12,

    /// <summary>The reel is known, but no clip of it holds these labels.</summary>
    ReelWithoutLabels = 1 << 13,

    /// <summary>The clip name is known, but with other labels or at another rate.</summary>
    NameElsewhere = 1 << 14,

    /// <summary>A transition or the speed needs more frames than the list names, and the clip ends before.</summary>
    NeedsMoreThanListed = 1 << 15,

    /// <summary>The source is auxiliary, without a reel.</summary>
    Auxiliary = 1 << 16,

    /// <summary>So many clips share the name that not all of them were looked at.</summary>
    NameTooCommon = 1 << 17,

    /// <summary>The frames lie in a take of several files.</summary>
    TakeOfSeveralFiles = 1 << 18,
}
