namespace PostPipeline.Timecodes.Conforming;

/// <summary>A run of frames [First, First + Frames).</summary>
/// <param name="First">The first frame.</param>
/// <param name="Frames">How many; 0 or more.</param>
public readonly record struct SourceSpan(long First, long Frames)
{
    /// <summary>The frame after the last one.</summary>
    public long End => First + Frames;

    /// <summary>The part of this run inside another; of no length where they do not meet.</summary>
    /// <param name="other">The other run.</param>
    public SourceSpan Inside(SourceSpan other)
    {
        long first = Math.Max(First, other.First);
        return new(first, Math.Max(0, Math.Min(End, other.End) - first));
    }
}
