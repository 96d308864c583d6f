namespace PostPipeline.Timecodes.Inventories;

/// <summary>Why a row of an inventory was not taken.</summary>
/// <param name="Line">From 1; the header is line 1.</param>
/// <param name="Column">From 1, in bytes.</param>
/// <param name="Field">The header of the column.</param>
/// <param name="Message">The value found and what is allowed.</param>
public readonly record struct InventoryProblem(int Line, int Column, string Field, string Message)
{
    /// <summary><c>line 3, column 30 (frames): …</c></summary>
    public override string ToString() => $"line {Line}, column {Column} ({Field}): {Message}";
}
