using PostPipeline.Quantities;

namespace PostPipeline.Timecodes.Generators;

/// <summary>One time that a camera rolled.</summary>
/// <param name="Camera">Place of the camera in the list, from 0.</param>
/// <param name="StartSeconds">When it rolled, in seconds from midnight of the first day.</param>
/// <param name="Sensor">Frames exposed in a second.</param>
/// <param name="FrameCount">Frames recorded, 1 or more.</param>
public readonly record struct DayTake(int Camera, Rational StartSeconds, FrameRate Sensor, long FrameCount);
