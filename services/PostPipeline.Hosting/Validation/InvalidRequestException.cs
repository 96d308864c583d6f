namespace PostPipeline.Hosting.Validation;

/// <summary>A request broke the rules of its fields; becomes INVALID_ARGUMENT with every violation in its details.</summary>
public sealed class InvalidRequestException : Exception
{
    /// <summary>Creates the exception.</summary>
    /// <param name="violations">What is wrong; at least one.</param>
    /// <param name="total">How many were found, when more than are listed.</param>
    public InvalidRequestException(IReadOnlyList<Violation> violations, int total)
        : base(Describe(violations, total)) =>
        (Violations, Total) = (violations, total);

    /// <summary>What is wrong, in the order found.</summary>
    public IReadOnlyList<Violation> Violations { get; }

    /// <summary>How many violations were found; more than are listed where a request is wrong all over.</summary>
    public int Total { get; }

    private static string Describe(IReadOnlyList<Violation> violations, int total) =>
        total == 1 ? violations[0].ToString() : $"{violations[0]} (and {total - 1} more)";
}
