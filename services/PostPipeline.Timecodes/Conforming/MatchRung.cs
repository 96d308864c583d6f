namespace PostPipeline.Timecodes.Conforming;

/// <summary>The rung of the ladder on which an event was matched. Common practice, no source.</summary>
public enum MatchRung
{
    /// <summary>Nothing was sought.</summary>
    NotSought = 0,

    /// <summary>Full clip name, timecode and rate.</summary>
    FullName = 1,

    /// <summary>Reel, timecode and rate.</summary>
    Reel = 2,

    /// <summary>A reel cut off at 8, 12, 16 or 32 characters, and timecode; only where one clip fits. A person confirms it.</summary>
    TruncatedReel = 3,

    /// <summary>Timecode with camera or date; only where one clip fits. A person confirms it.</summary>
    CameraOrDate = 4,

    /// <summary>Nothing fits well enough: a person looks.</summary>
    Person = 5,
}
