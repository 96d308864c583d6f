namespace PostPipeline.Client;

/// <summary>A label that was read, or why it could not be.</summary>
/// <param name="Label">The text.</param>
/// <param name="Frame">Its frame index from label zero; null where it has none.</param>
/// <param name="Problem">What is wrong and what is allowed; null where nothing is.</param>
public sealed record LabelReading(string Label, long? Frame, string? Problem);
