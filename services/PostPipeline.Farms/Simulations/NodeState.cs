namespace PostPipeline.Farms.Simulations;

/// <summary>A node and the attempt that it holds.</summary>
internal struct NodeState
{
    public bool Busy;
    public int Down;
    public double SlowFactor;
    public int Outages;

    /// <summary>Since when it has had nothing to do; names its valid entry among the idle.</summary>
    public long IdleSince;

    /// <summary>The order of the event that concerns the attempt it holds; any other event of it is stale.</summary>
    public long Ticket;

    public int Job;
    public int Segment;
    public int Attempt;

    /// <summary>Attempts that do not count towards the retry cap.</summary>
    public int Excused;
    public bool Mended;
    public bool Fails;
    public long Ready;
    public long Start;

    /// <summary>The node that runs the other copy, −1 for none.</summary>
    public int Twin;

    public AttemptPhase Phase;
    public bool TransferDone;
    public bool ComputeDone;
    public double Compute;
    public double Bytes;

    /// <summary>When the awaited event comes, so that a pause knows what is left.</summary>
    public long Due;

    /// <summary>Whether the attempt stands still, and what was left of it: time to the awaited event (−1 for none) and bytes.</summary>
    public bool Paused;
    public long TimeLeft;
    public double BytesLeft;
}
