namespace PostPipeline.Timecodes.Inventories;

/// <summary>What a file of pictures is.</summary>
public enum ClipKind
{
    /// <summary>What the camera recorded first.</summary>
    Original = 0,

    /// <summary>A lighter stand-in for the cut.</summary>
    Proxy = 1,

    /// <summary>A transcode good enough to finish from.</summary>
    Mezzanine = 2,
}
