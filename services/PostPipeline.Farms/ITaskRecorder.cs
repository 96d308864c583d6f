namespace PostPipeline.Farms;

/// <summary>Takes the rows of a simulation. Their order is not promised: sort them by what is asked of them.</summary>
public interface ITaskRecorder
{
    /// <summary>An attempt ended.</summary>
    /// <param name="record">The row.</param>
    void Ended(in TaskRecord record);
}
