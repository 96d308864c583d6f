using Xunit;

namespace PostPipeline.Browser.Tests;

/// <summary>Tests of files: one browser and one run of each notebook for all of them, one after another.</summary>
[CollectionDefinition(Name)]
public sealed class ReportCollection : ICollectionFixture<BrowserFixture>, ICollectionFixture<Reports>
{
    public const string Name = "reports";
}
