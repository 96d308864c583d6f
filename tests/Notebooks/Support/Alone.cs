using Xunit;

namespace PostPipeline.Notebooks.Tests.Support;

/// <summary>Tests that look at the whole process, and so run while no other test does.</summary>
[CollectionDefinition(Name, DisableParallelization = true)]
public sealed class Alone
{
    public const string Name = "alone in the process";
}
