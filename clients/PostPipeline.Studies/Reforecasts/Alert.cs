namespace PostPipeline.Studies.Reforecasts;

/// <summary>A line that is or will be crossed.</summary>
/// <param name="Name">The line.</param>
/// <param name="Day">The day on which it is crossed, as a date; empty where it is not bound to a day.</param>
/// <param name="Says">What happens, as a sentence.</param>
public sealed record Alert(string Name, string Day, string Says);
