namespace PostPipeline.Studies.Briefs;

/// <summary>Something that may happen.</summary>
/// <param name="Name">What.</param>
/// <param name="Probability">0 to 1.</param>
/// <param name="Delay">How long it holds up the stage, d.</param>
/// <param name="Cost">What it costs.</param>
/// <param name="Hits">The stage it hits.</param>
/// <param name="Pipelines">The pipelines it concerns; empty for all.</param>
public sealed record NamedEvent(
    string Name,
    double Probability,
    Estimate Delay,
    Estimate Cost,
    string Hits,
    IReadOnlyList<string> Pipelines);
