namespace PostPipeline.Timecodes;

/// <summary>Which frame is meant when an instant does not fall on the first instant of one.</summary>
public enum FrameRounding
{
    /// <summary>The frame that is showing.</summary>
    Down,

    /// <summary>The frame whose start is nearest; halves go to the later one.</summary>
    Nearest,

    /// <summary>The next frame to start.</summary>
    Up,
}
