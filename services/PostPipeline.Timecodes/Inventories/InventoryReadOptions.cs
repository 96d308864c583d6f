namespace PostPipeline.Timecodes.Inventories;

/// <summary>How an inventory is read.</summary>
public sealed record InventoryReadOptions
{
    /// <summary>How foreign headers are understood.</summary>
    public InventoryMapping Mapping { get; init; } = InventoryMapping.None;

    /// <summary>The largest number of rows, 1 to 1,000,000. Default 1,000,000.</summary>
    public int MaximumRows { get; init; } = InventoryBuilder.MaximumClips;

    /// <summary>The longest row in bytes. Default 16,384.</summary>
    public int MaximumRowBytes { get; init; } = 16_384;

    /// <summary>The most problems listed; further ones are counted only. Default 1,000.</summary>
    public int MaximumProblems { get; init; } = 1_000;
}
