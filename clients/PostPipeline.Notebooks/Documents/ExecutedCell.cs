namespace PostPipeline.Notebooks.Documents;

/// <summary>A code cell that ran, to its end or to an error.</summary>
/// <param name="Cell">The cell.</param>
/// <param name="Count">The execution count, from 1.</param>
/// <param name="Outputs">What it put out, in order.</param>
public sealed record ExecutedCell(NotebookCell Cell, int Count, IReadOnlyList<CellOutput> Outputs)
{
    /// <summary>The error that ended it, or null.</summary>
    public CellOutput.Error? Error => Outputs.OfType<CellOutput.Error>().FirstOrDefault();
}
