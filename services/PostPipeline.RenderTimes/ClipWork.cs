namespace PostPipeline.RenderTimes;

/// <summary>A clip whose work is asked for.</summary>
/// <param name="Features">Values by column name.</param>
/// <param name="Frames">Frames, 0 or more.</param>
public sealed record ClipWork(IReadOnlyDictionary<string, string> Features, long Frames);
