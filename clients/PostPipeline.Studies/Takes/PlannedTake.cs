namespace PostPipeline.Studies.Takes;

/// <summary>One take that the plan would record.</summary>
/// <param name="Camera">Place of the camera in the brief.</param>
/// <param name="Recording">Place of the recording in the camera.</param>
/// <param name="Day">Shoot day, from 0.</param>
/// <param name="Number">Number of the take on the camera's day, from 1.</param>
/// <param name="StartSeconds">Start, s after midnight.</param>
/// <param name="Frames">Recorded frames, 1 or more.</param>
/// <param name="RecordedSeconds">How long the camera ran, s.</param>
public readonly record struct PlannedTake(int Camera, int Recording, int Day, int Number, double StartSeconds, long Frames, double RecordedSeconds)
{
    /// <summary>End of the recording, s after midnight.</summary>
    public double EndSeconds => StartSeconds + RecordedSeconds;
}
