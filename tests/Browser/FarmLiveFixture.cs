namespace PostPipeline.Browser.Tests;

/// <summary>The command serving the notebook on sizing a farm, which has a night to play.</summary>
public sealed class FarmLiveFixture() : ServedPage("farm-sizing");
