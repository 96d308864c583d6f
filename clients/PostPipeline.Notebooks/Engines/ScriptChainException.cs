using PostPipeline.Notebooks.Documents;

namespace PostPipeline.Notebooks.Engines;

/// <summary>A cell of a chain does not compile.</summary>
/// <param name="cell">Its number from 1.</param>
/// <param name="error">Where and why.</param>
public sealed class ScriptChainException(int cell, CellOutput.Error error) : Exception($"cell {cell}{(error.Line is int line ? $", line {line}" : string.Empty)}: {error.Message}")
{
    /// <summary>The cell, from 1.</summary>
    public int Cell { get; } = cell;

    /// <summary>Where and why.</summary>
    public CellOutput.Error Error { get; } = error;
}
