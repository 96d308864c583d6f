namespace PostPipeline.Browser.Tests;

/// <summary>The command serving the comparison, with few draws.</summary>
public sealed class CompareLiveFixture() : ServedPage("compare", "-p", "draws=100");
