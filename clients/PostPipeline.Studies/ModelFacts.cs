namespace PostPipeline.Studies;

/// <summary>What stands behind the seconds per frame.</summary>
/// <param name="Source">Where they come from: a model, or the built-in invented figures.</param>
/// <param name="ModelId">The model, or empty.</param>
/// <param name="Invented">Whether they rest on invented rows.</param>
/// <param name="ValidatedDomain">What was measured, as a sentence.</param>
/// <param name="HeldOutMedianPercent">Median error on families held out whole, %; NaN where there is no model.</param>
public sealed record ModelFacts(string Source, string ModelId, bool Invented, string ValidatedDomain, double HeldOutMedianPercent);
