namespace PostPipeline.Timecodes.Timelines;

/// <summary>Something about a timeline that a person should know, with its place in the document.</summary>
/// <param name="Path">The place, for example <c>tracks.children[0].children[3].source_range</c>.</param>
/// <param name="IsError">Whether it could not be understood; else it was read, with a remark.</param>
/// <param name="Message">What was found and what is allowed.</param>
public readonly record struct TimelineProblem(string Path, bool IsError, string Message)
{
    /// <summary><c>tracks.children[0]: …</c></summary>
    public override string ToString() => Path.Length == 0 ? Message : $"{Path}: {Message}";
}
