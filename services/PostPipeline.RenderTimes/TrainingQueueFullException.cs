namespace PostPipeline.RenderTimes;

/// <summary>As many fits wait as may wait.</summary>
/// <param name="waiting">How many may wait.</param>
public sealed class TrainingQueueFullException(int waiting)
    : Exception($"One fit runs and {waiting} wait, which is as many as may wait; try again later.");
