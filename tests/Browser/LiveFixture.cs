namespace PostPipeline.Browser.Tests;

/// <summary>The command serving the notebook on recording.</summary>
public sealed class LiveFixture() : ServedPage("recording-and-bursts");
