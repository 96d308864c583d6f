namespace PostPipeline.RenderTimes;

/// <summary>Another process is writing to the store.</summary>
/// <param name="processId">Its number; 0 where it cannot be told.</param>
public sealed class StoreInUseException(int processId)
    : Exception(processId > 0 ? $"The data folder is in use by process {processId}." : "The data folder is in use by another process.")
{
    /// <summary>The number of the process that writes; 0 where it cannot be told.</summary>
    public int ProcessId { get; } = processId;
}
