namespace PostPipeline.Studies.Briefs;

/// <summary>One thing that is wrong in a file that a person wrote: where, what it says, and what would be allowed.</summary>
/// <param name="File">The file as the caller named it.</param>
/// <param name="Line">Line from 1; 0 where the problem concerns the file as a whole.</param>
/// <param name="Column">Column from 1; 0 where the problem concerns the line or the file as a whole.</param>
/// <param name="Key">The key from the top of the file, such as <c>shoot.units[0].cameras[1].card</c>; empty for the file as a whole.</param>
/// <param name="Value">What stands there, shortened; empty where nothing stands there.</param>
/// <param name="Message">What is wrong and what is allowed.</param>
public sealed record BriefProblem(string File, long Line, long Column, string Key, string Value, string Message)
{
    /// <summary>The problem on one line.</summary>
    public override string ToString()
    {
        string place = Line == 0 ? File : Column == 0 ? $"{File}:{Line}" : $"{File}:{Line}:{Column}";
        string key = Key.Length > 0 ? $" {Key}" : string.Empty;
        string value = Value.Length > 0 ? $" = {Value}" : string.Empty;
        return $"{place}:{key}{value}: {Message}";
    }
}
