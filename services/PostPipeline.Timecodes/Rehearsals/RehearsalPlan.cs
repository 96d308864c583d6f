using System.Collections.Immutable;

namespace PostPipeline.Timecodes.Rehearsals;

/// <summary>What is rehearsed: the takes of a plan, the settings of the cameras, and the cut to be made of them.</summary>
public sealed record RehearsalPlan
{
    /// <summary>The most takes.</summary>
    public const int MaximumTakes = 1_000_000;

    /// <summary>The most events of the synthetic cut.</summary>
    public const int MaximumEvents = 100_000;

    /// <summary>Seed of the synthetic cut.</summary>
    public long Seed { get; init; }

    /// <summary>Rate and numbering of the cut, in which the edit list writes source labels too.</summary>
    public required TimecodeFormat ProjectFormat { get; init; }

    /// <summary>Events of the synthetic cut, 1 to 100,000.</summary>
    public int Events { get; init; } = 1_000;

    /// <summary>Frames wanted before and behind each event, 0 to 1,000.</summary>
    public int HandleFrames { get; init; }

    /// <summary>Characters of a reel name that survive the edit list; 0 where nothing is cut off.</summary>
    public int ReelCharacters { get; init; }

    /// <summary>Whether the edit list carries full clip names in its comments; null where nobody knows, then both are tried.</summary>
    public bool? NamesInList { get; init; }

    /// <summary>The cameras.</summary>
    public required ImmutableArray<RehearsalCamera> Cameras { get; init; }

    /// <summary>The takes.</summary>
    public required ImmutableArray<RehearsalTake> Takes { get; init; }
}
