namespace PostPipeline.Slates.Scheduling;

/// <summary>One task waits for another's end. Where either is not done, nothing waits.</summary>
/// <param name="Before">Place of the task that ends first.</param>
/// <param name="After">Place of the task that waits.</param>
/// <param name="Lag">Slots between, which may be negative.</param>
public readonly record struct Precedence(int Before, int After, int Lag = 0);
