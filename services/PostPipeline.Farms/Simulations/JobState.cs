namespace PostPipeline.Farms.Simulations;

/// <summary>How far a job has come.</summary>
internal struct JobState
{
    /// <summary>The next segment that no node has had.</summary>
    public int NextSegment;

    /// <summary>Segments before this one may start: all of them, then the join.</summary>
    public int Limit;

    /// <summary>Tasks not yet done before the next step of the job.</summary>
    public int Remaining;

    /// <summary>Jobs that must be done first, and its material, still missing.</summary>
    public int Missing;

    public long ReadyAt;
    public bool Waiting;

    /// <summary>First and last of its attempts to be made again; −1 for none.</summary>
    public int RetryHead;
    public int RetryTail;
}
