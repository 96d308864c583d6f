namespace PostPipeline.Timecodes.Generators;

/// <summary>When a camera's label counter counts.</summary>
public enum TimecodeRun
{
    /// <summary>Always: labels are the time of day, unique in a day, with gaps between clips.</summary>
    Free,

    /// <summary>While recording only: labels go on from clip to clip; two cameras collide unless their reels differ.</summary>
    Record,
}
