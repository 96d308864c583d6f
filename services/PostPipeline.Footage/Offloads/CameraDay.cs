namespace PostPipeline.Footage.Offloads;

/// <summary>What one camera records on one day, and when its cards are pulled although they are not full.</summary>
/// <param name="Camera">Its name.</param>
/// <param name="CardBytes">Bytes of one card that are used.</param>
/// <param name="Takes">Takes in order of time, not overlapping.</param>
/// <param name="PullMicroseconds">When a part-full card is pulled: lunch, a change of mode.</param>
public sealed record CameraDay(string Camera, long CardBytes, IReadOnlyList<RecordedTake> Takes, IReadOnlyList<long> PullMicroseconds);
