namespace PostPipeline.RenderTimes.FarmLogs;

/// <summary>How an attempt at a task stands.</summary>
public enum AttemptState
{
    /// <summary>It ended well.</summary>
    Done,

    /// <summary>It ended without a result.</summary>
    Failed,

    /// <summary>It has not ended.</summary>
    Running,
}
