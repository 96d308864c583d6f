namespace PostPipeline.Slates.Planning;

/// <summary>A piece of a project's work.</summary>
/// <param name="Name">Its name; unique in its option.</param>
public sealed record SlateStage(string Name)
{
    /// <summary>What it waits for.</summary>
    public IReadOnlyList<StageWait> After { get; init; } = [];

    /// <summary>Open half-days of work, 0 or more; not read where <see cref="Farm"/> says how the work is done.</summary>
    public int Duration { get; init; }

    /// <summary>What it holds from start to end.</summary>
    public IReadOnlyList<StageUse> Uses { get; init; } = [];

    /// <summary>The ways to do farm work; empty where it is none. Exactly one is taken.</summary>
    public IReadOnlyList<FarmChoice> Farm { get; init; } = [];

    /// <summary>Name of the calendar it is worked in, on top of those of its resources; null where it has none.</summary>
    public string? Calendar { get; init; }

    /// <summary>First half-day in which it may start, on top of the project's release.</summary>
    public int NotBefore { get; init; }

    /// <summary>Half-day at which it has started and from which it is not moved; null where it has not.</summary>
    public int? StartedAt { get; init; }

    /// <summary>Farm class on which it has started; null where it has not, or is no farm work.</summary>
    public string? StartedOn { get; init; }

    /// <summary>Nodes with which it has started; null where it has not, or is no farm work.</summary>
    public int? StartedNodes { get; init; }
}
