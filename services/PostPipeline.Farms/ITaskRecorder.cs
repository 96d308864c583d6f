namespace PostPipeline.Farms;

/// <summary>Takes the rows of a simulation as they come, in order of time.</summary>
public interface ITaskRecorder
{
    /// <summary>Tasks began to wait for a node (retries included).</summary>
    /// <param name="time">When, microseconds.</param>
    /// <param name="tasks">How many.</param>
    void Ready(long time, int tasks);

    /// <summary>An attempt ended.</summary>
    /// <param name="record">The row.</param>
    void Ended(in TaskRecord record);
}
