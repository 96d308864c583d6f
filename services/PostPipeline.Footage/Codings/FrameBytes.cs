using PostPipeline.Quantities;

namespace PostPipeline.Footage.Codings;

/// <summary>
/// Bytes a frame: the least, the average on which cards fill, and the peak on which writes fail. All three are
/// equal where every frame has one size.
/// </summary>
public readonly record struct FrameBytes
{
    private FrameBytes(long low, long average, long peak, SizeCertainty certainty) =>
        (Low, Average, Peak, Certainty) = (low, average, peak, certainty);

    /// <summary>The least, in bytes.</summary>
    public long Low { get; }

    /// <summary>The average, in bytes.</summary>
    public long Average { get; }

    /// <summary>The most, in bytes.</summary>
    public long Peak { get; }

    /// <summary>What kind of knowledge these are.</summary>
    public SizeCertainty Certainty { get; }

    /// <summary>Whether every frame has the same size.</summary>
    public bool IsConstant => Low == Peak;

    /// <summary>Peak over average, at least 1; 1 where the average is 0.</summary>
    public Rational PeakFactor => Average == 0 ? Rational.One : new(Peak, Average);

    /// <summary>One size for every frame.</summary>
    /// <param name="bytes">Zero or more.</param>
    /// <param name="certainty">How it is known.</param>
    public static FrameBytes Constant(long bytes, SizeCertainty certainty = SizeCertainty.Exact)
    {
        Guard.InRange(bytes, 0, long.MaxValue);
        return new(bytes, bytes, bytes, certainty);
    }

    /// <summary>A range.</summary>
    /// <param name="low">Zero or more.</param>
    /// <param name="average">Not below <paramref name="low"/>.</param>
    /// <param name="peak">Not below <paramref name="average"/>.</param>
    /// <param name="certainty">How it is known.</param>
    public static FrameBytes Range(long low, long average, long peak, SizeCertainty certainty)
    {
        Guard.InRange(average, Guard.InRange(low, 0, long.MaxValue), long.MaxValue);
        return new(low, average, Guard.InRange(peak, average, long.MaxValue), certainty);
    }
}
