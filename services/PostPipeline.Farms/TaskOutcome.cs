namespace PostPipeline.Farms;

/// <summary>How an attempt ended.</summary>
public enum TaskOutcome
{
    /// <summary>The task is done.</summary>
    Done = 0,

    /// <summary>It failed, and is tried again or set aside.</summary>
    Failed = 1,

    /// <summary>Its node closed or went down under it.</summary>
    Lost = 2,

    /// <summary>The other copy of the same task was first.</summary>
    Dropped = 3,
}
