namespace PostPipeline.Timecodes.Manifests;

/// <summary>One file of a hash manifest.</summary>
/// <param name="Path">Its path as written, with forward slashes.</param>
/// <param name="SizeBytes">Its size; null where the manifest does not say.</param>
/// <param name="Algorithm">The hash: md5, sha1, sha256, sha512, xxh32, xxh64, xxh3, xxh128, c4; empty where it cannot be told.</param>
/// <param name="Hash">The hash as written.</param>
public sealed record ManifestEntry(string Path, long? SizeBytes, string Algorithm, string Hash);
