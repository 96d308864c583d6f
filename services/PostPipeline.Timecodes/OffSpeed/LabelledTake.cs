namespace PostPipeline.Timecodes.OffSpeed;

/// <summary>A stretch of labels on a reel, as far as a collision is concerned.</summary>
/// <param name="Reel">What is matched besides the label; takes of different reels cannot collide.</param>
/// <param name="Labels">The labels of the take.</param>
public readonly record struct LabelledTake(string Reel, TimecodeRange Labels);
