namespace PostPipeline.Farms.Simulations;

/// <summary>What a thread keeps from one replication to the next.</summary>
internal sealed class RunArrays
{
    /// <summary>For farms whose nodes share nothing.</summary>
    public ListRun? List { get; set; }

    /// <summary>For every farm.</summary>
    public FarmRun? Events { get; set; }
}
