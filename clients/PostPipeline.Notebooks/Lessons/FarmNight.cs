namespace PostPipeline.Notebooks.Lessons;

/// <summary>A night of a farm, as sliders give it.</summary>
/// <param name="Frames">Frames to convert.</param>
/// <param name="SecondsPerFrame">Node-seconds a frame.</param>
/// <param name="Uncertainty">How unsure that is: the standard deviation of its logarithm, the same for all tasks.</param>
/// <param name="WindowHours">The night, h.</param>
/// <param name="Confidence">The probability asked for, 0 to 1.</param>
/// <param name="FailureProbability">The chance that a task fails, 0 to 1.</param>
/// <param name="StorageMegabytesPerSecond">What storage leaves to the farm, MB/s; 0 for no limit.</param>
/// <param name="SegmentFrames">Frames a task.</param>
/// <param name="Seed">The seed.</param>
public sealed record FarmNight(long Frames, double SecondsPerFrame, double Uncertainty, double WindowHours, double Confidence, double FailureProbability, double StorageMegabytesPerSecond, long SegmentFrames, long Seed)
{
    /// <summary>Read and written a frame, MB; storage is shared by both.</summary>
    public double MovedMegabytesPerFrame { get; init; } = 8;

    /// <summary>Seconds of each task beside its frames.</summary>
    public double OverheadSeconds { get; init; } = 30;
}
