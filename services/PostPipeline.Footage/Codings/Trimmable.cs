namespace PostPipeline.Footage.Codings;

/// <summary>Whether a range of frames can be taken from a clip without coding it again.</summary>
public enum Trimmable
{
    /// <summary>Not known: plan for whole clips.</summary>
    Unknown = 0,

    /// <summary>Every frame stands alone and the container can be cut.</summary>
    Yes = 1,

    /// <summary>Frames depend on others, or the container cannot be cut.</summary>
    No = 2,
}
