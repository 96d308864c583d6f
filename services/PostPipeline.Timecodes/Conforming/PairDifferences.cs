namespace PostPipeline.Timecodes.Conforming;

/// <summary>In what a proxy and its original differ. A proxy serves the cut only where nothing differs.</summary>
[Flags]
public enum PairDifferences
{
    /// <summary>Nothing differs.</summary>
    None = 0,

    /// <summary>They have different numbers of frames: a frame of one is not the frame of the other with the same number.</summary>
    FrameCount = 1 << 0,

    /// <summary>They begin with different labels, as where every proxy starts at one hour.</summary>
    Start = 1 << 1,

    /// <summary>Their labels count at different rates.</summary>
    Rate = 1 << 2,

    /// <summary>One counts drop-frame and the other does not.</summary>
    DropFlag = 1 << 3,

    /// <summary>Their names have no stem in common; they were paired by reel and labels.</summary>
    NameStem = 1 << 4,

    /// <summary>The numbers of frames part as sensor rate and project rate do: the original was over- or under-cranked and the proxy was not.</summary>
    OffSpeed = 1 << 5,
}
