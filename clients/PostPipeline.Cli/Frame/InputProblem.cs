namespace PostPipeline.Cli.Frame;

/// <summary>One thing that is wrong with what the user gave.</summary>
/// <param name="File">The file as the user named it; empty where it stands on the command line.</param>
/// <param name="Line">Line from 1; 0 where the file as a whole is meant.</param>
/// <param name="Column">Column from 1; 0 where unknown.</param>
/// <param name="Field">The key, column or option.</param>
/// <param name="Value">What stands there; empty where nothing does.</param>
/// <param name="Problem">What is wrong and what is allowed.</param>
internal sealed record InputProblem(string File, long Line, long Column, string Field, string Value, string Problem)
{
    /// <summary>A problem of an option or argument.</summary>
    /// <param name="option">Its name, for example <c>--rate</c>.</param>
    /// <param name="value">What was given.</param>
    /// <param name="problem">What is wrong and what is allowed.</param>
    public static InputProblem Of(string option, string value, string problem) => new(string.Empty, 0, 0, option, value, problem);

    /// <summary><c>plan.yaml:12:8: shoot.days = -3: allowed is 1 to 366</c>.</summary>
    public override string ToString()
    {
        string place = File.Length == 0 ? string.Empty : Line == 0 ? $"{File}: " : Column == 0 ? $"{File}:{Line}: " : $"{File}:{Line}:{Column}: ";
        string field = Field.Length == 0 ? string.Empty : Value.Length == 0 ? $"{Field}: " : $"{Field} = {Value}: ";
        return place + field + Problem;
    }
}
