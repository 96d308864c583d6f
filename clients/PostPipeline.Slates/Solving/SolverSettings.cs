namespace PostPipeline.Slates.Solving;

/// <summary>How long and how the solver works.</summary>
public sealed record SolverSettings
{
    /// <summary>Seconds for all levels together, above 0. What one level leaves over goes to the next.</summary>
    public double Seconds { get; init; } = 60;

    /// <summary>Shares of the time by level, above 0; null where levels share alike.</summary>
    public IReadOnlyList<double>? Shares { get; init; }

    /// <summary>Threads, 1 or more.</summary>
    public int Workers { get; init; } = 2;

    /// <summary>Seed of the search.</summary>
    public int Seed { get; init; } = 1;

    /// <summary>
    /// Whether the same problem gives the same plan every time: the limit is then counted in the solver's own
    /// deterministic time, which is roughly seconds, and the threads take turns.
    /// </summary>
    public bool Repeatable { get; init; }

    /// <summary>Whether the constraint solver takes what the search leaves open of a small problem of choices.</summary>
    public bool Exact { get; init; } = true;
}
