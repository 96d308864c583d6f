namespace PostPipeline.Farms;

/// <summary>Keeps every row.</summary>
public sealed class TaskRecordList : ITaskRecorder
{
    private readonly List<TaskRecord> rows = [];

    /// <summary>The rows, in order of their ends.</summary>
    public IReadOnlyList<TaskRecord> Rows => rows;

    /// <inheritdoc/>
    public void Ready(long time, int tasks)
    {
    }

    /// <inheritdoc/>
    public void Ended(in TaskRecord record) => rows.Add(record);
}
