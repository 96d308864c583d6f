namespace PostPipeline.Notebooks.Lessons;

/// <summary>An over-cranked clip and the next on the same reel, as sliders give them.</summary>
/// <param name="SensorRate">Frames a second that the sensor makes.</param>
/// <param name="BaseRate">Frames a second of the labels and of the project.</param>
/// <param name="RecordedSeconds">How long the clip is recorded, s.</param>
/// <param name="StartLabel">Its first label.</param>
/// <param name="NextLabel">The first label of the next clip.</param>
/// <param name="NextFrames">The frames of the next clip.</param>
/// <param name="Labelling">"one label a frame", "labels follow the clock", "record run forced" or "unknown".</param>
public sealed record OffSpeedShot(double SensorRate, double BaseRate, double RecordedSeconds, string StartLabel, string NextLabel, long NextFrames, string Labelling);
