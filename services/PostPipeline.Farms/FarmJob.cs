namespace PostPipeline.Farms;

/// <summary>Frames to render or transcode as one submission, cut into segments that become tasks.</summary>
public sealed record FarmJob
{
    /// <summary>A name to show; need not be unique.</summary>
    public string Name { get; init; } = string.Empty;

    /// <summary>The job class, by index.</summary>
    public int Class { get; init; }

    /// <summary>The project whose share it draws on, by index; 0 where the scenario names none.</summary>
    public int Project { get; init; }

    /// <summary>Higher goes first, −1,000 to 1,000. Equal priorities go by release, then by place in the list.</summary>
    public int Priority { get; init; }

    /// <summary>When its material is there, microseconds on the farm's clock, 0 or later.</summary>
    public long ReleaseMicroseconds { get; init; }

    /// <summary>Frames, 0 to 10⁹. A job of no frames is done when it is released.</summary>
    public required long Frames { get; init; }

    /// <summary>Median seconds per frame on the reference node.</summary>
    public required double SecondsPerFrame { get; init; }

    /// <summary>Frames a segment; 0 makes one task of the job. The last segment is what remains.</summary>
    public long SegmentFrames { get; init; }

    /// <summary>Frames rendered again before each segment but the first, for work that looks at earlier pictures.</summary>
    public long PreRollFrames { get; init; }

    /// <summary>Seconds each task costs whatever the node: start, load, close.</summary>
    public double OverheadSeconds { get; init; }

    /// <summary>Bytes read per rendered frame.</summary>
    public long ReadBytesPerFrame { get; init; }

    /// <summary>Bytes written per delivered frame (pre-roll writes nothing).</summary>
    public long WriteBytesPerFrame { get; init; }

    /// <summary>
    /// Seconds per frame on the reference node of a last task that joins the segments into one file, reading and
    /// writing every byte once more; null where the segments stay apart.
    /// </summary>
    public double? JoinSecondsPerFrame { get; init; }

    /// <summary>Jobs that must be done first, by index.</summary>
    public IReadOnlyList<int> After { get; init; } = [];
}
