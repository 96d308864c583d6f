namespace PostPipeline.Slates.Planning;

/// <summary>A slate that cannot be planned as it is written, with everything that is wrong.</summary>
public sealed class SlateProblemException : Exception
{
    /// <summary>Creates the exception.</summary>
    /// <param name="faults">What is wrong, 1 or more.</param>
    public SlateProblemException(IReadOnlyList<SlateFault> faults)
        : base(string.Join('\n', faults.Select(f => f.ToString()))) => Faults = faults;

    /// <summary>Everything that is wrong.</summary>
    public IReadOnlyList<SlateFault> Faults { get; }
}
