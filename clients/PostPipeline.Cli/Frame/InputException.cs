namespace PostPipeline.Cli.Frame;

/// <summary>What the user gave cannot be used; every problem found is listed.</summary>
internal sealed class InputException : Exception
{
    public InputException(IReadOnlyList<InputProblem> problems)
        : base(string.Join(Environment.NewLine, problems)) => Problems = problems;

    public InputException(InputProblem problem)
        : this([problem])
    {
    }

    /// <summary>At least one.</summary>
    public IReadOnlyList<InputProblem> Problems { get; }
}
