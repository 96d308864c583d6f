namespace PostPipeline.Footage.Codings;

/// <summary>One thing that is wrong with what was given: the field, and a sentence with the value and what is allowed.</summary>
/// <param name="Field">The field, as its users write it (snake case).</param>
/// <param name="Message">A whole sentence.</param>
public readonly record struct FieldProblem(string Field, string Message)
{
    /// <summary><c>field: message</c>.</summary>
    public override string ToString() => $"{Field}: {Message}";
}
