namespace PostPipeline.Slates.Planning;

/// <summary>A project of the slate.</summary>
/// <param name="Name">Its name; unique in a slate.</param>
/// <param name="Due">Half-day by which all its stages should have ended; ends are slots after the last.</param>
/// <param name="Options">The pipelines it may take, 1 or more.</param>
public sealed record SlateProject(string Name, int Due, IReadOnlyList<SlateOption> Options)
{
    /// <summary>Weight of one half-day of lateness, 1 to 1,000,000.</summary>
    public long Weight { get; init; } = 1;

    /// <summary>First half-day in which any stage may start.</summary>
    public int Release { get; init; }

    /// <summary>Half-day by which all stages must have ended; null where lateness is only counted.</summary>
    public int? Deadline { get; init; }

    /// <summary>How firmly it stands.</summary>
    public HoldRank Hold { get; init; } = HoldRank.Firm;

    /// <summary>Half-day at which a hold that is not firm expires; null where none was given.</summary>
    public int? HoldExpires { get; init; }
}
