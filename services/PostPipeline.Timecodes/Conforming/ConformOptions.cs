using System.Collections.Immutable;
using PostPipeline.Timecodes.Inventories;

namespace PostPipeline.Timecodes.Conforming;

/// <summary>How a cut is matched.</summary>
public sealed record ConformOptions
{
    /// <summary>Frames wanted before and behind each event, counted on the record side. 0 to 10,000. Default 0.</summary>
    public int HandleFrames { get; init; }

    /// <summary>What is sought: originals, or mezzanine files, or proxies. Default originals.</summary>
    public ClipKind Target { get; init; } = ClipKind.Original;

    /// <summary>Lengths at which systems cut off reel names (common practice, no source).</summary>
    public ImmutableArray<int> ReelLengths { get; init; } = [8, 12, 16, 32];

    /// <summary>Whether an event that names a proxy is led to the proxy's original. Default true.</summary>
    public bool ThroughProxies { get; init; } = true;
}
