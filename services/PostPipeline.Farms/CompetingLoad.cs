namespace PostPipeline.Farms;

/// <summary>
/// Other people's work on the same farm, known only by its rate: jobs of one task each that arrive at random (a Poisson
/// process) and run for a time of a given mean and spread.
/// </summary>
public sealed record CompetingLoad
{
    /// <summary>The job class, by index.</summary>
    public int Class { get; init; }

    /// <summary>The project, by index.</summary>
    public int Project { get; init; }

    /// <summary>Higher goes first.</summary>
    public int Priority { get; init; }

    /// <summary>First instant at which such work may arrive, microseconds.</summary>
    public long FromMicroseconds { get; init; }

    /// <summary>Instant from which none arrives, microseconds.</summary>
    public required long UntilMicroseconds { get; init; }

    /// <summary>Arrivals per hour, above 0.</summary>
    public required double JobsPerHour { get; init; }

    /// <summary>Mean seconds a job on the reference node.</summary>
    public required double MeanSeconds { get; init; }

    /// <summary>Squared coefficient of variation of the seconds: 0 constant, otherwise log-normal.</summary>
    public double SquaredVariation { get; init; } = 1;
}
