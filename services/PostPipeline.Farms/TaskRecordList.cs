namespace PostPipeline.Farms;

/// <summary>Keeps every row.</summary>
/// <param name="expected">About how many rows there will be.</param>
public sealed class TaskRecordList(int expected = 0) : ITaskRecorder
{
    private readonly List<TaskRecord> rows = new(expected);

    /// <summary>The rows, as they came.</summary>
    public IReadOnlyList<TaskRecord> Rows => rows;

    /// <inheritdoc/>
    public void Ready(long time, int tasks)
    {
    }

    /// <inheritdoc/>
    public void Ended(in TaskRecord record) => rows.Add(record);
}
