namespace PostPipeline.Timecodes.Conforming;

/// <summary>What became of an event between an old cut and a new one.</summary>
public enum CutChange
{
    /// <summary>Same frames, same place.</summary>
    Unchanged = 0,

    /// <summary>Same frames, another place.</summary>
    Moved = 1,

    /// <summary>Frames of the same clip at the same speed, but other ones at the beginning or end.</summary>
    Trimmed = 2,

    /// <summary>Frames of the same clip at another speed.</summary>
    Retimed = 3,

    /// <summary>Only in the new cut.</summary>
    Added = 4,

    /// <summary>Only in the old cut.</summary>
    Removed = 5,
}
