namespace PostPipeline.Studies.Reforecasts;

/// <summary>What is left of something before the next shoot day, and what that day takes.</summary>
/// <param name="Name">What it is: cards of a kind, drives of a copy, a tier, tapes.</param>
/// <param name="Left">What is left before the day, in cards or bytes.</param>
/// <param name="Takes">What the day takes, in the same unit.</param>
/// <param name="IsBytes">Whether the numbers are bytes; cards where not.</param>
/// <param name="WholeLeft">Whole drives or tapes left after the day; null where it does not come in pieces.</param>
public sealed record Supply(string Name, double Left, double Takes, bool IsBytes, int? WholeLeft)
{
    /// <summary>What is left after the day; below zero where it is not enough.</summary>
    public double After => Left - Takes;
}
