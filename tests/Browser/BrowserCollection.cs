using Xunit;

namespace PostPipeline.Browser.Tests;

/// <summary>One browser and one server a notebook for all tests, which run one after another: on two cores several browsers only wait for each other.</summary>
[CollectionDefinition(Name)]
public sealed class BrowserCollection : ICollectionFixture<BrowserFixture>, ICollectionFixture<LiveFixture>, ICollectionFixture<OffloadLiveFixture>, ICollectionFixture<CompareLiveFixture>, ICollectionFixture<FarmLiveFixture>
{
    public const string Name = "browser";
}
