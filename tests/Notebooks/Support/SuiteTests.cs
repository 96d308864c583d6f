using PostPipeline.Embedded;
using Xunit;

namespace PostPipeline.Notebooks.Tests.Support;

/// <summary>
/// Tests of what cells call. A process has one <see cref="Suite"/>, so these classes run one after the other
/// (<see cref="Name"/>); each test has services and a data folder of its own.
/// </summary>
public abstract class SuiteTests : IAsyncLifetime
{
    /// <summary>The collection that keeps such classes apart.</summary>
    public const string Name = "the suite of this process";

    private readonly EmbeddedSuite suite;

    protected SuiteTests()
    {
        Data = Directory.CreateTempSubdirectory("postpipeline-lesson-").FullName;
        suite = EmbeddedSuite.InFolder(Data);
        Suite.Use(_ => Task.FromResult(suite.Clients));
    }

    /// <summary>The services' data folder.</summary>
    protected string Data { get; }

    public Task InitializeAsync() => Task.CompletedTask;

    public async Task DisposeAsync()
    {
        await suite.DisposeAsync();
        Directory.Delete(Data, recursive: true);
    }
}
