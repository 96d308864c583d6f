using PostPipeline.Quantities;

namespace PostPipeline.Slates.Files;

/// <summary>A link that projects share, one transfer at a time.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Carries">pulls (originals back from nearline) or remote (proxies to a remote editor).</param>
/// <param name="Rate">Its plannable rate.</param>
public sealed record SharedLink(string Name, string Carries, DataRate Rate);
