namespace PostPipeline.Timecodes.MediaChecks;

/// <summary>One thing that is not as planned.</summary>
/// <param name="Kind">What.</param>
/// <param name="Name">The clip.</param>
/// <param name="Expected">What was expected; empty where nothing was.</param>
/// <param name="Found">What was found; empty where nothing was.</param>
public readonly record struct MediaFinding(MediaFindingKind Kind, string Name, string Expected, string Found)
{
    /// <summary>The finding as a sentence.</summary>
    public string Sentence => Kind switch
    {
        MediaFindingKind.Missing => $"{Name} is planned and not there.",
        MediaFindingKind.Unplanned => $"{Name} is there and not planned.",
        MediaFindingKind.Repeated => $"{Name} is there {Found} times.",
        MediaFindingKind.Frames => $"{Name} has {Found} frames; planned are {Expected}.",
        MediaFindingKind.Start => $"{Name} begins at {Found}; planned is {Expected}.",
        MediaFindingKind.Rate => $"{Name} has {Found} frames per second; planned are {Expected}.",
        MediaFindingKind.DropFlag => $"{Name} counts {Found}; planned is {Expected}.",
        MediaFindingKind.Raster => $"{Name} is {Found} pixels; planned are {Expected}.",
        MediaFindingKind.Size => $"{Name} has {Found} bytes a frame; its like have {Expected}.",
        MediaFindingKind.Numbering => $"{Name} is left out in a row of numbered names.",
        MediaFindingKind.Proxy => $"{Name}: {Found}.",
        MediaFindingKind.Chunks => $"{Name}: {Found}.",
        MediaFindingKind.Empty => $"{Name} has zero length.",
        _ => Name,
    };
}
