namespace PostPipeline.Timecodes.MediaChecks;

/// <summary>How a folder of media is checked.</summary>
public sealed record MediaCheckOptions
{
    /// <summary>Bytes a frame below the median of like files times this are an outlier. Above 0 and below 1. Default 0.5 (invented).</summary>
    public double SmallestShareOfMedian { get; init; } = 0.5;

    /// <summary>Bytes a frame above the median of like files times this are an outlier. Above 1. Default 2 (invented).</summary>
    public double LargestShareOfMedian { get; init; } = 2;

    /// <summary>Fewer like files than this have no median worth the name. Default 5 (invented).</summary>
    public int FewestLikeFiles { get; init; } = 5;

    /// <summary>Whether every original must have a proxy. Default true where there is any proxy at all.</summary>
    public bool? ProxiesExpected { get; init; }

    /// <summary>The most findings listed. Default 10,000.</summary>
    public int MaximumFindings { get; init; } = 10_000;
}
