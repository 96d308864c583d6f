namespace PostPipeline.Farms.Simulations;

/// <summary>An attempt to be made again, in a list of its job or set aside.</summary>
internal struct RetryEntry
{
    public int Job;
    public int Segment;
    public int Attempt;
    public int Excused;
    public bool Mended;
    public long Ready;
    public int Next;
}
