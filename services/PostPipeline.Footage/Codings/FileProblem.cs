namespace PostPipeline.Footage.Codings;

/// <summary>One thing that is wrong in a file of codings.</summary>
/// <param name="Line">Line, from 1.</param>
/// <param name="Column">Character in the line, from 1.</param>
/// <param name="Field">The column's name, or empty.</param>
/// <param name="Message">A sentence with the value and what is allowed.</param>
public readonly record struct FileProblem(int Line, int Column, string Field, string Message)
{
    /// <summary><c>line 3, column 12, bit_depth: is 99; allowed is 1 to 32</c>.</summary>
    public override string ToString() => $"line {Line}, column {Column}{(Field.Length > 0 ? $", {Field}" : string.Empty)}: {Message}";
}
