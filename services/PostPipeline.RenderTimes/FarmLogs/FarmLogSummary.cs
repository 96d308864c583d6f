using System.Collections.Immutable;

namespace PostPipeline.RenderTimes.FarmLogs;

/// <summary>What a farm's own log says about the farm.</summary>
/// <param name="Attempts">Attempts in the log, running ones included.</param>
/// <param name="Tasks">Distinct tasks.</param>
/// <param name="Jobs">Each job.</param>
/// <param name="TaskOverheadSeconds">What a task costs beside its frames: the intercept of time on frames; NaN where no job has tasks of different lengths.</param>
/// <param name="TaskOverheadError">Its standard error.</param>
/// <param name="UnloggedAttempts">Attempts that came before a numbered one and have no row: a task is tried again because it failed, so they count as failed.</param>
/// <param name="FailureRate">Failed attempts over attempts that ended, those without a row included.</param>
/// <param name="FailureLow">Lower end of its 90 % interval (Wilson 1927).</param>
/// <param name="FailureHigh">Upper end.</param>
/// <param name="RetryRate">Tasks with more than one attempt over all tasks.</param>
/// <param name="NeverDone">Tasks that failed and have neither a good attempt nor one that runs.</param>
/// <param name="Nodes">Each node.</param>
/// <param name="Hours">Each hour of the day, 24 of them.</param>
public sealed record FarmLogSummary(
    int Attempts,
    int Tasks,
    int UnloggedAttempts,
    ImmutableArray<LoggedJob> Jobs,
    double TaskOverheadSeconds,
    double TaskOverheadError,
    double FailureRate,
    double FailureLow,
    double FailureHigh,
    double RetryRate,
    int NeverDone,
    ImmutableArray<LoggedNode> Nodes,
    ImmutableArray<LoggedHour> Hours);

/// <summary>A job of a log.</summary>
/// <param name="Job">Its name.</param>
/// <param name="Frames">Frames of good attempts.</param>
/// <param name="SecondsPerFrame">On a usual node, net of the task's overhead; NaN without a good attempt.</param>
/// <param name="NodeHours">Node-hours of all its attempts that ended.</param>
/// <param name="NodeShare">Its part of all node-hours: what competes with the other jobs.</param>
public sealed record LoggedJob(string Job, long Frames, double SecondsPerFrame, double NodeHours, double NodeShare);

/// <summary>A node of a log.</summary>
/// <param name="Node">Its name.</param>
/// <param name="Attempts">Good attempts.</param>
/// <param name="TimeFactor">Time against a usual node for the same work; NaN with fewer than five good attempts.</param>
/// <param name="Slow">Whether it takes a quarter longer or more.</param>
public sealed record LoggedNode(string Node, int Attempts, double TimeFactor, bool Slow);

/// <summary>An hour of the day.</summary>
/// <param name="Hour">0 to 23 in the log's own offset.</param>
/// <param name="ActiveShare">Part of nodes and days on which a node worked at all in this hour: the availability that was really there.</param>
/// <param name="BusyShare">Part of the nodes' time that was spent on attempts.</param>
public sealed record LoggedHour(int Hour, double ActiveShare, double BusyShare);
