using Xunit;

namespace PostPipeline.Browser.Tests;

/// <summary>
/// Tests of live pages: one browser and one server a notebook for all of them, one after another. They run beside those of
/// <see cref="ReportCollection"/>: a page that is waited for leaves a core free, on two cores for two browsers at most.
/// </summary>
[CollectionDefinition(Name)]
public sealed class LiveCollection : ICollectionFixture<BrowserFixture>, ICollectionFixture<LivePages>
{
    public const string Name = "live pages";
}
