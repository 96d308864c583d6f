namespace PostPipeline.Studies.Outcomes;

/// <summary>Something that a person should know or mend.</summary>
/// <param name="Name">A short name.</param>
/// <param name="Says">What is so.</param>
/// <param name="Remedy">What mends it; empty where nothing is to be done.</param>
public sealed record Finding(string Name, string Says, string Remedy);
