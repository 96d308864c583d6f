namespace PostPipeline.Farms;

/// <summary>
/// Takes the rows of a simulation as nodes let go of them: in order of their ends, save that rows which end at the same
/// instant, or while their nodes are closed, may change places.
/// </summary>
public interface ITaskRecorder
{
    /// <summary>An attempt ended.</summary>
    /// <param name="record">The row.</param>
    void Ended(in TaskRecord record);
}
