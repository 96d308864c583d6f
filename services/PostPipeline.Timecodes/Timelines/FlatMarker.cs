using PostPipeline.Quantities;

namespace PostPipeline.Timecodes.Timelines;

/// <summary>A marker of a timeline.</summary>
/// <param name="Owner">Where its owner stands in the document.</param>
/// <param name="Name">Its name.</param>
/// <param name="Color">Its colour as written.</param>
/// <param name="StartSeconds">Where it begins in its owner's own time.</param>
/// <param name="DurationSeconds">How long it is.</param>
public sealed record FlatMarker(string Owner, string Name, string Color, Rational StartSeconds, Rational DurationSeconds);
