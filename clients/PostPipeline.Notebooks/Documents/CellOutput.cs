namespace PostPipeline.Notebooks.Documents;

/// <summary>Something that a cell put out: text, a value, or an error.</summary>
public abstract record CellOutput
{
    private CellOutput()
    {
    }

    /// <summary>Text written by the cell.</summary>
    /// <param name="Name">"stdout" or "stderr".</param>
    /// <param name="Content">The text.</param>
    public sealed record Text(string Name, string Content) : CellOutput;

    /// <summary>A value in one or more representations.</summary>
    /// <param name="Bundle">The representations.</param>
    /// <param name="IsResult">True for the value of the cell's last expression.</param>
    public sealed record Value(MimeBundle Bundle, bool IsResult) : CellOutput;

    /// <summary>An error that ended the cell.</summary>
    /// <param name="Kind">The kind, for example the type of the exception.</param>
    /// <param name="Message">What happened.</param>
    /// <param name="Line">The line in the cell, from 1; null where it is not known.</param>
    /// <param name="Trace">The lines of the trace, outermost last.</param>
    public sealed record Error(string Kind, string Message, int? Line, IReadOnlyList<string> Trace) : CellOutput;
}
