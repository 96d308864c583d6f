namespace PostPipeline.Footage.Offloads;

/// <summary>A take as it fills a card: evenly from start to end.</summary>
/// <param name="StartMicroseconds">When it starts, on the day's clock.</param>
/// <param name="EndMicroseconds">When it ends; not before it starts.</param>
/// <param name="Bytes">Bytes recorded.</param>
/// <param name="Files">Files, 1 or more.</param>
public readonly record struct RecordedTake(long StartMicroseconds, long EndMicroseconds, long Bytes, int Files);
