namespace PostPipeline.Timecodes.Manifests;

/// <summary>A file that is there.</summary>
/// <param name="Path">Its path, relative to the manifest's folder.</param>
/// <param name="SizeBytes">Its size.</param>
/// <param name="Hash">Its hash where somebody computed it; null where not.</param>
public readonly record struct FoundFile(string Path, long SizeBytes, string? Hash);
