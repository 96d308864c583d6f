using System.Collections.Immutable;

namespace PostPipeline.Timecodes.Inventories;

/// <summary>What reading an inventory gave.</summary>
/// <param name="Inventory">The rows that were understood.</param>
/// <param name="Rows">Rows of the file below its header.</param>
/// <param name="Problems">Rows that were not understood, with the reason.</param>
/// <param name="ProblemsLeftOff">How many further problems were met beyond those listed.</param>
/// <param name="UnmappedHeaders">Headers that have no meaning here; their cells were passed over.</param>
public sealed record InventoryReading(
    Inventory Inventory, int Rows, ImmutableArray<InventoryProblem> Problems, int ProblemsLeftOff, ImmutableArray<string> UnmappedHeaders);
