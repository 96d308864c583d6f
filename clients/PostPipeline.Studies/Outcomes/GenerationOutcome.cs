namespace PostPipeline.Studies.Outcomes;

/// <summary>One copy or derivative of the pictures over all draws.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Tier">online or nearline.</param>
/// <param name="Payer">Who pays.</param>
/// <param name="Bytes">Bytes.</param>
public sealed record GenerationOutcome(string Name, string Tier, string Payer, Range Bytes);
