namespace PostPipeline.Studies.Briefs;

/// <summary>A file could not be used; every problem found in it is listed, not only the first.</summary>
public sealed class BriefException : Exception
{
    /// <summary>Creates the error from its problems.</summary>
    /// <param name="problems">At least one.</param>
    public BriefException(IReadOnlyList<BriefProblem> problems)
        : base(string.Join(Environment.NewLine, problems)) => Problems = problems;

    /// <summary>Creates the error from one problem of the file as a whole.</summary>
    /// <param name="file">The file as the caller named it.</param>
    /// <param name="message">What is wrong and what is allowed.</param>
    public BriefException(string file, string message)
        : this([new(file, 0, 0, string.Empty, string.Empty, message)])
    {
    }

    /// <summary>Every problem, in the order of the file.</summary>
    public IReadOnlyList<BriefProblem> Problems { get; }
}
