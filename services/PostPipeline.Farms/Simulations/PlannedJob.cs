namespace PostPipeline.Farms.Simulations;

/// <summary>A job as the simulation sees it: everything that does not change during a run, computed once.</summary>
internal struct PlannedJob
{
    public int Class;
    public int Lane;
    public long Rank;
    public long Release;

    /// <summary>Tasks before the join: those under way at the beginning, then the segments.</summary>
    public int Segments;

    /// <summary>How many of them are under way, and where their frames stand.</summary>
    public int Running;
    public int RunningFrom;
    public int FirstTask;
    public long Frames;
    public long SegmentFrames;
    public long PreRoll;
    public long Overhead;
    public double MicrosecondsPerFrame;
    public double ReadBytesPerFrame;
    public double WriteBytesPerFrame;
    public bool HasJoin;
    public double JoinMicrosecondsPerFrame;
    public int Predecessors;
    public int FollowersFrom;
    public int FollowersUntil;
}
