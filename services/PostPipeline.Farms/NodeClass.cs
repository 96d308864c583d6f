using PostPipeline.Flows;

namespace PostPipeline.Farms;

/// <summary>A kind of node, and how many of it there are.</summary>
public sealed record NodeClass
{
    /// <summary>A name, unique in the farm.</summary>
    public required string Name { get; init; }

    /// <summary>How many nodes, 0 to 100,000 in the whole farm.</summary>
    public required int Count { get; init; }

    /// <summary>
    /// For each job class of the scenario, measured seconds per frame on this class ÷ on the reference node: 1 is the
    /// reference, 1.5 takes half as long again, 0 cannot run that class. Empty means 1 for every class.
    /// </summary>
    public IReadOnlyList<double> TimeFactors { get; init; } = [];

    /// <summary>When the nodes take tasks; null means always. Microseconds on the farm's clock.</summary>
    public Windows? Open { get; init; }

    /// <summary>The probability that a node is slow for the whole run, 0 to 1.</summary>
    public double SlowProbability { get; init; }

    /// <summary>The least by which a slow node's frames take longer, 1 or more.</summary>
    public double SlowFactorLow { get; init; } = 1.3;

    /// <summary>The most by which a slow node's frames take longer; the factor is uniform between the two.</summary>
    public double SlowFactorHigh { get; init; } = 3.0;

    /// <summary>Mean time that a node runs between outages, exponential, microseconds; 0 means that nodes never go down.</summary>
    public long MeanUpMicroseconds { get; init; }

    /// <summary>Mean time that an outage lasts, exponential, microseconds.</summary>
    public long MeanDownMicroseconds { get; init; }
}
