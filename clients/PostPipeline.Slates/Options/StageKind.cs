namespace PostPipeline.Slates.Options;

/// <summary>How a stage of a pipeline takes its time.</summary>
public enum StageKind
{
    /// <summary>The shoot with its offload: its dates are given.</summary>
    Shoot,

    /// <summary>Works on each day's material as it comes.</summary>
    Streams,

    /// <summary>Works when all that it waits for is there.</summary>
    Works,

    /// <summary>The edit: so many days after the material, and not before the lock.</summary>
    Edits,

    /// <summary>Lasts a while, whoever works.</summary>
    Lasts,
}
