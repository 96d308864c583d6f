using PostPipeline.Farms;

namespace PostPipeline.Rendering.Service.Farms;

/// <summary>Keeps the first rows of a simulation, so that an answer stays small.</summary>
/// <param name="most">How many.</param>
internal sealed class FirstRecords(int most) : ITaskRecorder
{
    private readonly List<TaskRecord> rows = [];

    /// <summary>The rows, in order of their ends.</summary>
    public IReadOnlyList<TaskRecord> Rows => rows;

    /// <inheritdoc/>
    public void Ended(in TaskRecord record)
    {
        if (rows.Count < most)
        {
            rows.Add(record);
        }
    }
}
