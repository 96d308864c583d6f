namespace PostPipeline.Footage.Recordings;

/// <summary>What a buffer does while it records.</summary>
public enum DrainBehaviour
{
    /// <summary>Not known: worked out as if it did not drain.</summary>
    Unknown = 0,

    /// <summary>It drains to the medium from the trigger on.</summary>
    FromTrigger = 1,

    /// <summary>It drains only after the capture.</summary>
    AfterCapture = 2,
}
