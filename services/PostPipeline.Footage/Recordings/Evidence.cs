namespace PostPipeline.Footage.Recordings;

/// <summary>Whether a mode table, or a test with a full card, shows that a mode can be recorded without end.</summary>
public enum Evidence
{
    /// <summary>Nobody has shown it: unknown is not a pass.</summary>
    Unknown = 0,

    /// <summary>Shown to hold.</summary>
    Holds = 1,

    /// <summary>Shown not to hold.</summary>
    Fails = 2,
}
