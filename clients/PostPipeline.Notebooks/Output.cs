using PostPipeline.Notebooks.Documents;
using PostPipeline.Notebooks.Rendering;

namespace PostPipeline.Notebooks;

/// <summary>What a cell can do beside ending in a value. Imported into every cell.</summary>
public static class Output
{
    /// <summary>Puts a value out here, before the cell ends.</summary>
    /// <param name="value">A figure, a table, text, a caution, a derivation.</param>
    public static void Show(object? value) => CellContext.Current?.Sink(new CellOutput.Value(Renderer.ToBundle(value), false));

    /// <summary>Writes down something that is needed to make the numbers again; it stands at the end of the report.</summary>
    /// <param name="name">What it is: "Seed".</param>
    /// <param name="value">Its value.</param>
    internal static void Note(string name, string value) => CellContext.Current?.Parameters.Note(name, value);

    /// <summary>How many threads a study may use in this cell.</summary>
    public static int Threads => CellContext.Current?.Threads ?? Environment.ProcessorCount;

    /// <summary>Cancelled when the answer of this cell is no longer wanted; hand it to every call that can take long.</summary>
    public static CancellationToken Stop => CellContext.Current?.Stop ?? CancellationToken.None;
}
