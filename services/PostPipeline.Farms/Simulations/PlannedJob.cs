namespace PostPipeline.Farms.Simulations;

/// <summary>A job as the simulation sees it: everything that does not change during a run, computed once.</summary>
internal struct PlannedJob
{
    public int Class;
    public int Lane;
    public long Rank;
    public long Release;
    public int Segments;
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
