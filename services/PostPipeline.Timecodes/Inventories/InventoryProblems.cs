namespace PostPipeline.Timecodes.Inventories;

/// <summary>What is wrong with an inventory, up to a limit.</summary>
internal sealed class InventoryProblems(int most)
{
    private readonly List<InventoryProblem> listed = [];

    /// <summary>The first of them.</summary>
    public IReadOnlyList<InventoryProblem> Listed => listed;

    /// <summary>How many were left off.</summary>
    public int LeftOff { get; private set; }

    /// <summary>Notes one.</summary>
    public void Add(int line, int column, string field, string message)
    {
        if (listed.Count < most)
        {
            listed.Add(new(line, column, field, message));
        }
        else
        {
            LeftOff++;
        }
    }
}
