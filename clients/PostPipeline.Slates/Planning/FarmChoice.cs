namespace PostPipeline.Slates.Planning;

/// <summary>A class of nodes that can do a farm stage, and with how many. The duration is the work over the nodes, rounded up.</summary>
/// <param name="Resource">Name of the farm class.</param>
/// <param name="NodeHalfDays">The work on this class, above 0: half-days that one node would take.</param>
/// <param name="NodeCounts">Numbers of nodes that may work on it at once, each 1 or more.</param>
public sealed record FarmChoice(string Resource, double NodeHalfDays, IReadOnlyList<int> NodeCounts)
{
    /// <summary>What each node holds besides, such as a licence or a part of a link.</summary>
    public IReadOnlyList<StageUse> PerNode { get; init; } = [];

    /// <summary>Half-days that a number of nodes takes.</summary>
    /// <param name="nodes">Nodes, 1 or more.</param>
    public int Duration(int nodes) => (int)Math.Max(1, Math.Ceiling((NodeHalfDays / nodes) - 1e-9));
}
