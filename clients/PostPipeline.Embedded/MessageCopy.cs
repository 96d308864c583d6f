namespace PostPipeline.Embedded;

/// <summary>How messages cross between caller and service, so that neither sees the other change one.</summary>
public enum MessageCopy
{
    /// <summary>By a deep copy of the message.</summary>
    Clone,

    /// <summary>Through bytes, as over the network; slower, for tests.</summary>
    Marshal,
}
