namespace PostPipeline.Timecodes.EditLists;

/// <summary>Something about an edit list that a person should know, with its place.</summary>
/// <param name="Line">From 1.</param>
/// <param name="Column">From 1, in bytes.</param>
/// <param name="IsError">Whether the line could not be understood; else it was read, but is not written as the standard has it.</param>
/// <param name="Message">The value found and what is allowed.</param>
public readonly record struct EditListProblem(int Line, int Column, bool IsError, string Message)
{
    /// <summary><c>line 3, column 30: …</c></summary>
    public override string ToString() => $"line {Line}, column {Column}: {Message}";
}
