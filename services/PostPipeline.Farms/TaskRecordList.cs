namespace PostPipeline.Farms;

/// <summary>Keeps every row.</summary>
/// <param name="expected">About how many rows there will be.</param>
public sealed class TaskRecordList(int expected = 0) : ITaskRecorder
{
    private TaskRecord[] rows = new TaskRecord[Math.Max(16, expected)];
    private int count;

    /// <summary>The rows, as they came.</summary>
    public IReadOnlyList<TaskRecord> Rows => new ArraySegment<TaskRecord>(rows, 0, count);

    /// <inheritdoc/>
    public void Ended(in TaskRecord record)
    {
        if (count == rows.Length)
        {
            Array.Resize(ref rows, count * 2);
        }

        rows[count++] = record;
    }

    /// <summary>Hands every row on.</summary>
    /// <param name="recorder">Takes them.</param>
    public void WriteTo(ITaskRecorder recorder)
    {
        for (int i = 0; i < count; i++)
        {
            recorder.Ended(rows[i]);
        }
    }

    /// <summary>Forgets the rows, so that the list can be used again.</summary>
    public void Clear() => count = 0;
}
