using PostPipeline.Quantities;

namespace PostPipeline.Timecodes.Rehearsals;

/// <summary>One take that a plan would record.</summary>
/// <param name="Clip">The clip name as the camera would write it.</param>
/// <param name="Reel">The reel as the camera would write it.</param>
/// <param name="Camera">Place of the camera in the plan's list, from 0.</param>
/// <param name="Day">Day of the shoot, from 0.</param>
/// <param name="StartSeconds">Start of recording, in seconds after the day's midnight, 0 or more.</param>
/// <param name="Frames">Frames recorded, 1 to 1,000,000,000.</param>
/// <param name="SensorRate">Frames per second of the sensor.</param>
/// <param name="RecordRunStart">Where the camera's own counter stands, in frames from label zero.</param>
public readonly record struct RehearsalTake(
    string Clip, string Reel, int Camera, int Day, double StartSeconds, long Frames, FrameRate SensorRate, long RecordRunStart);
