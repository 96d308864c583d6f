namespace PostPipeline.Browser.Tests;

/// <summary>The command serving the notebook on offload, which has something to play.</summary>
public sealed class OffloadLiveFixture() : ServedPage("offload-and-storage");
