using PostPipeline.Quantities;

namespace PostPipeline.Studies.Briefs;

/// <summary>A copy that offload makes.</summary>
/// <param name="Write">Sustained write rate.</param>
/// <param name="FastSize">What its fast part takes first; 0 for none.</param>
/// <param name="FastWrite">Rate of the fast part.</param>
public sealed record Destination(
    DataRate Write,
    DataSize FastSize,
    DataRate FastWrite);
