using System.Collections.Immutable;

namespace PostPipeline.RenderTimes;

/// <summary>
/// The prediction as one feature moves and the others stay as they were measured, averaged over rows (partial
/// dependence, Friedman 2001, Greedy function approximation).
/// </summary>
/// <param name="Feature">The column.</param>
/// <param name="Values">Values of the feature, as text.</param>
/// <param name="SecondsPerFrame">Geometric mean of predicted seconds per frame at each value.</param>
public sealed record PartialDependence(string Feature, ImmutableArray<string> Values, ImmutableArray<double> SecondsPerFrame);
