namespace PostPipeline.Timecodes.OffSpeed;

/// <summary>
/// How a camera labels frames when the sensor rate differs from the timecode base. It differs from camera mode to
/// camera mode; nobody may guess, so the default is not to know. Common practice, no source.
/// </summary>
public enum OffSpeedLabelling
{
    /// <summary>Nobody knows: every behaviour is possible.</summary>
    Unknown,

    /// <summary>One label a recorded frame at the base rate: labels run ahead of the clock and may overlap later clips.</summary>
    PerFrame,

    /// <summary>Labels follow the clock: over-cranked they repeat, under-cranked they skip.</summary>
    FollowsClock,

    /// <summary>The camera switches to record run: one label a frame, going on from its own last clip.</summary>
    RecordRunForced,

    /// <summary>No labels are recorded.</summary>
    None,
}
