namespace PostPipeline.Farms;

/// <summary>What the jobs of one kind share: where they run, what they hold while running, and how they go wrong.</summary>
public sealed record JobClass
{
    /// <summary>A name, unique in the scenario.</summary>
    public required string Name { get; init; }

    /// <summary>The licence pool that each running task takes one of, by index; null where none is needed.</summary>
    public int? Licence { get; init; }

    /// <summary>The storage pool that tasks read from and write to, by index; null where storage never binds.</summary>
    public int? Storage { get; init; }

    /// <summary>
    /// How much of a task's reading and writing runs while it computes, 0 to 1: 1 takes the longer of the two, 0 their
    /// sum, between the rest is moved before the computing starts.
    /// </summary>
    public double Overlap { get; init; } = 1;

    /// <summary>Standard deviation of the logarithm of a task's time about its median, drawn task by task; 0 is exact.</summary>
    public double TaskLogSd { get; init; }

    /// <summary>
    /// Standard deviation of the logarithm of the whole class's time about its median, one draw a replication: a
    /// prediction that is wrong is wrong for every task of the kind.
    /// </summary>
    public double SharedLogSd { get; init; }

    /// <summary>Classes with the same group share that draw; null stands for a group of its own.</summary>
    public int? ErrorGroup { get; init; }

    /// <summary>The probability that an attempt fails for a reason that another attempt may not meet, 0 to 1 exclusive.</summary>
    public double FailureProbability { get; init; }

    /// <summary>The share of an attempt's time after which such a failure shows, 0 to 1; 1 loses the whole attempt.</summary>
    public double FailurePoint { get; init; } = 1;

    /// <summary>The probability that a task can never succeed until someone has looked at it, 0 to 1.</summary>
    public double BrokenProbability { get; init; }

    /// <summary>Attempts before a task is set aside until someone looks, 1 or more.</summary>
    public int RetryCap { get; init; } = 3;
}
