using PostPipeline.Quantities;

namespace PostPipeline.Studies.Briefs;

/// <summary>A copy that is made of a card.</summary>
/// <param name="Write">Sustained write rate.</param>
/// <param name="FastSize">How much the fast part takes first.</param>
/// <param name="FastWrite">Rate of the fast part.</param>
/// <param name="Size">Size of one drive; null where not said.</param>
/// <param name="Count">Drives that there are.</param>
public sealed record Destination(
    DataRate Write,
    DataSize FastSize,
    DataRate FastWrite,
    DataSize? Size = null,
    int Count = 1);
