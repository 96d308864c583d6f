namespace PostPipeline.Timecodes.Conforming;

/// <summary>A proxy and the original that it stands for.</summary>
/// <param name="Proxy">The proxy's row in the inventory.</param>
/// <param name="Original">The original's row, or −1.</param>
/// <param name="State">Whether there is exactly one.</param>
/// <param name="Differences">In what they differ.</param>
public readonly record struct ProxyPair(int Proxy, int Original, PairState State, PairDifferences Differences)
{
    /// <summary>Whether frame n of the proxy is frame n of the original. Without it the proxy is for reference only.</summary>
    public bool FramesCorrespond => State == PairState.Paired && (Differences & (PairDifferences.FrameCount | PairDifferences.Rate)) == 0;

    /// <summary>Whether the proxy serves the cut: one original, nothing different.</summary>
    public bool Serves => State == PairState.Paired && Differences == PairDifferences.None;
}
