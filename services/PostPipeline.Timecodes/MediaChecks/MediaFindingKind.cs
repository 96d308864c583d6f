namespace PostPipeline.Timecodes.MediaChecks;

/// <summary>In what a folder of media is not as planned.</summary>
public enum MediaFindingKind
{
    /// <summary>Planned and not there.</summary>
    Missing = 0,

    /// <summary>There and not planned.</summary>
    Unplanned = 1,

    /// <summary>More than one file of one name and kind.</summary>
    Repeated = 2,

    /// <summary>Another number of frames.</summary>
    Frames = 3,

    /// <summary>Another first label, or none.</summary>
    Start = 4,

    /// <summary>Another rate.</summary>
    Rate = 5,

    /// <summary>Another drop-frame flag.</summary>
    DropFlag = 6,

    /// <summary>Another picture size.</summary>
    Raster = 7,

    /// <summary>Bytes a frame far from those of its like.</summary>
    Size = 8,

    /// <summary>A number is left out in a row of numbered names.</summary>
    Numbering = 9,

    /// <summary>A proxy without original, an original without proxy, or a pair that differs.</summary>
    Proxy = 10,

    /// <summary>A take lacks a file, or its files do not follow each other.</summary>
    Chunks = 11,

    /// <summary>A file of zero length.</summary>
    Empty = 12,
}
