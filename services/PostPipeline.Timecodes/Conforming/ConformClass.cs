namespace PostPipeline.Timecodes.Conforming;

/// <summary>What the check of one event came to.</summary>
public enum ConformClass
{
    /// <summary>Exactly one clip holds every frame, handles included.</summary>
    Matched = 0,

    /// <summary>One clip holds every frame of the event, but not all of its handles.</summary>
    ShortHandles = 1,

    /// <summary>One clip holds the frames, and the event changes their speed.</summary>
    SpeedToCheck = 2,

    /// <summary>More than one clip fits.</summary>
    SeveralCandidates = 3,

    /// <summary>No clip fits.</summary>
    None = 4,

    /// <summary>The clip is there, but its labels count at another rate.</summary>
    RateConflict = 5,

    /// <summary>The clip is there, but one side counts drop-frame and the other does not.</summary>
    DropFlagConflict = 6,

    /// <summary>The clip is there, but does not hold all the frames.</summary>
    OutsideFile = 7,

    /// <summary>The take is there, but a file of it that holds some of the frames is not.</summary>
    ChunkMissing = 8,

    /// <summary>Black, sound alone, or an event of no length: no clip is sought.</summary>
    NotSought = 9,
}
