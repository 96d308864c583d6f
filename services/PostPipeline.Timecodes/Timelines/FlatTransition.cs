using PostPipeline.Quantities;

namespace PostPipeline.Timecodes.Timelines;

/// <summary>A transition between two items of a track.</summary>
/// <param name="Track">The track.</param>
/// <param name="Type">The type as written, for example SMPTE_Dissolve.</param>
/// <param name="CutSeconds">The place of the cut that it covers, in seconds from the start of the timeline.</param>
/// <param name="InSeconds">How long it lasts before the cut.</param>
/// <param name="OutSeconds">How long it lasts behind the cut.</param>
public sealed record FlatTransition(string Track, string Type, Rational CutSeconds, Rational InSeconds, Rational OutSeconds);
