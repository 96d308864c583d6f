using System.Collections.Immutable;
using PostPipeline.Quantities;

namespace PostPipeline.Timecodes.Timelines;

/// <summary>A timeline with every nesting opened.</summary>
/// <param name="Name">The timeline's name.</param>
/// <param name="Rate">The rate of the record side.</param>
/// <param name="GlobalStartSeconds">Where the record side begins, in seconds from label zero.</param>
/// <param name="TrackSeconds">Length of each track on the top level, in seconds.</param>
/// <param name="Items">Clips and gaps, track by track, in order.</param>
/// <param name="Transitions">Transitions.</param>
/// <param name="Markers">Markers.</param>
/// <param name="Nested">Where compositions were nested and have been opened.</param>
/// <param name="UnknownSchemas">Schemas that have no meaning here, each once; they stay in the document untouched.</param>
public sealed record FlatTimeline(
    string Name,
    FrameRate Rate,
    Rational GlobalStartSeconds,
    ImmutableArray<Rational> TrackSeconds,
    ImmutableArray<FlatItem> Items,
    ImmutableArray<FlatTransition> Transitions,
    ImmutableArray<FlatMarker> Markers,
    ImmutableArray<string> Nested,
    ImmutableArray<string> UnknownSchemas)
{
    /// <summary>Length of a top-level track in frames of the record side, rounded to the nearest.</summary>
    /// <param name="track">The track, from 0.</param>
    public long TrackFrames(int track) => (TrackSeconds[track] * Rate.FramesPerSecond).RoundHalfAwayFromZero();
}
