namespace PostPipeline.Footage.Offloads;

/// <summary>How copies are checked; the name stands on every sheet.</summary>
public enum VerifyLevel
{
    /// <summary>Not at all.</summary>
    None = 0,

    /// <summary>By the sizes of files.</summary>
    Sizes = 1,

    /// <summary>Destinations are read again and compared with what was read first; a bad first read is blessed.</summary>
    Destinations = 2,

    /// <summary>The source is read again too, so that a bad first read shows.</summary>
    SourceAndDestinations = 3,

    /// <summary>Destinations are read again and compared with hashes that the camera wrote.</summary>
    CameraHashes = 4,
}
