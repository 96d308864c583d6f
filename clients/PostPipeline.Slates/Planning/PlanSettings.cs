namespace PostPipeline.Slates.Planning;

/// <summary>How long and how a slate is planned.</summary>
public sealed record PlanSettings
{
    /// <summary>Seconds for all levels together, 0.1 to 86,400. What one level leaves over goes to the next.</summary>
    public double Seconds { get; init; } = 60;

    /// <summary>Shares of the time by level, above 0; a level that is not named has a share of 1.</summary>
    public IReadOnlyDictionary<PlanLevel, double> Shares { get; init; } = new Dictionary<PlanLevel, double>();

    /// <summary>Threads, 1 to 64.</summary>
    public int Workers { get; init; } = 2;

    /// <summary>Seed of the search.</summary>
    public int Seed { get; init; } = 1;

    /// <summary>
    /// Whether the same slate gives the same plan every time, on any number of threads: work is then counted in steps,
    /// of which about as many are taken as fit the seconds on an idle machine.
    /// </summary>
    public bool Repeatable { get; init; }

    /// <summary>
    /// Whether a small slate is also given to the constraint solver, which may prove what the search leaves open. Its model
    /// takes a second or more to build, however short the time.
    /// </summary>
    public bool Exact { get; init; } = true;
}
