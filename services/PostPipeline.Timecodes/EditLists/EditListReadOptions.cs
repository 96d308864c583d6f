namespace PostPipeline.Timecodes.EditLists;

/// <summary>How an edit list is read.</summary>
public sealed record EditListReadOptions
{
    /// <summary>The largest number of event lines, 1 to 1,000,000. Default 100,000.</summary>
    public int MaximumEvents { get; init; } = 100_000;

    /// <summary>The longest line in bytes. Default 4,096.</summary>
    public int MaximumLineBytes { get; init; } = 4_096;

    /// <summary>The most problems listed; further ones are counted only. Default 10,000.</summary>
    public int MaximumProblems { get; init; } = 10_000;

    /// <summary>Whether every deviation from the standard's layout is listed too. Default false.</summary>
    public bool Strict { get; init; }
}
