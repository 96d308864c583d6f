namespace PostPipeline.Farms;

/// <summary>What one replication came to. Times are microseconds on the farm's clock.</summary>
public sealed record ReplicationResult
{
    /// <summary>When each job of the scenario was done; −1 where it was not.</summary>
    public required IReadOnlyList<long> JobFinishes { get; init; }

    /// <summary>When the last job of the scenario was done; null where one was not.</summary>
    public required long? Finish { get; init; }

    /// <summary>Tasks done, joins included, competing work not.</summary>
    public required long TasksDone { get; init; }

    /// <summary>Attempts that failed.</summary>
    public required long Failures { get; init; }

    /// <summary>Attempts lost to a closing window or a node that went down.</summary>
    public required long Lost { get; init; }

    /// <summary>Copies dropped because the other was first.</summary>
    public required long Dropped { get; init; }

    /// <summary>Tasks set aside until someone looked.</summary>
    public required long SetAside { get; init; }

    /// <summary>Time that nodes spent holding tasks, summed over nodes and all outcomes.</summary>
    public required long BusyMicroseconds { get; init; }

    /// <summary>The part of it that produced nothing: failed, lost and dropped attempts.</summary>
    public required long WastedMicroseconds { get; init; }

    /// <summary>Time integral of the number of tasks waiting, running or set aside, in task-microseconds.</summary>
    public required double TaskMicroseconds { get; init; }

    /// <summary>Events handled.</summary>
    public required long Events { get; init; }
}
