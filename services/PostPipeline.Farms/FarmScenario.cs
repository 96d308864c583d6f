using PostPipeline.Farms.Simulations;
using PostPipeline.Flows;

namespace PostPipeline.Farms;

/// <summary>A farm, its work and its rules: everything that a simulation needs but the seed.</summary>
public sealed record FarmScenario
{
    /// <summary>Node classes, in the order in which nodes are numbered.</summary>
    public required IReadOnlyList<NodeClass> Nodes { get; init; }

    /// <summary>Job classes.</summary>
    public required IReadOnlyList<JobClass> Classes { get; init; }

    /// <summary>Jobs.</summary>
    public required IReadOnlyList<FarmJob> Jobs { get; init; }

    /// <summary>Tasks that are under way at time 0, beside the frames of their jobs.</summary>
    public IReadOnlyList<RunningTask> Running { get; init; } = [];

    /// <summary>Projects; empty means one.</summary>
    public IReadOnlyList<FarmProject> Projects { get; init; } = [];

    /// <summary>Licence pools.</summary>
    public IReadOnlyList<LicencePool> Licences { get; init; } = [];

    /// <summary>Storage pools.</summary>
    public IReadOnlyList<StoragePool> Storage { get; init; } = [];

    /// <summary>Nodes taken out for a while.</summary>
    public IReadOnlyList<Maintenance> Maintenance { get; init; } = [];

    /// <summary>Other people's work.</summary>
    public IReadOnlyList<CompetingLoad> Competing { get; init; } = [];

    /// <summary>Whole-farm failures at night; null for none.</summary>
    public NightFailure? NightFailure { get; init; }

    /// <summary>When somebody looks at tasks that were set aside and at a farm that stopped; null means always.</summary>
    public Windows? Attended { get; init; }

    /// <summary>How long it takes, once looked at, to mend a task that was set aside, microseconds.</summary>
    public long MendMicroseconds { get; init; }

    /// <summary>Whose task an idle node takes.</summary>
    public SharingRule Sharing { get; init; }

    /// <summary>What becomes of a running task when its window closes.</summary>
    public ClosingRule Closing { get; init; }

    /// <summary>
    /// Whether a node that finds no waiting task starts a second copy of the running task that started first; the copy
    /// that ends first counts and the other is dropped. A task that has failed is not copied.
    /// </summary>
    public bool DuplicateTail { get; init; }

    /// <summary>The instant at which the simulation gives up; what is not done then is reported as not finished.</summary>
    public long HorizonMicroseconds { get; init; } = 4L * 366 * 86_400 * FarmClock.MicrosecondsPerSecond;

    /// <summary>Everything wrong with the scenario, as a field path and what is allowed there; empty when it can be run.</summary>
    public IReadOnlyList<FarmProblem> Problems() => ScenarioChecks.Of(this);
}
