using Xunit;

namespace PostPipeline.Browser.Tests;

/// <summary>One browser, one server and one report a notebook for all tests, which run one after another: on two cores several browsers only wait for each other.</summary>
[CollectionDefinition(Name)]
public sealed class BrowserCollection : ICollectionFixture<BrowserFixture>, ICollectionFixture<LivePages>, ICollectionFixture<Reports>
{
    public const string Name = "browser";
}
