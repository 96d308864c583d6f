namespace PostPipeline.Timecodes.Conforming;

/// <summary>How a pull list is made.</summary>
public sealed record PullOptions
{
    /// <summary>Ranges of one clip that are fewer frames apart than this are pulled as one. 0 to 1,000,000. Default 24 (24 to 48 is common practice).</summary>
    public int MergeGapFrames { get; init; } = 24;

    /// <summary>Whether a file of which nobody knows that it can be trimmed is pulled whole. Default true: unknown is not yes.</summary>
    public bool WholeWhereUnknown { get; init; } = true;
}
