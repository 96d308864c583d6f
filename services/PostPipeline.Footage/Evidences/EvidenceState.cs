namespace PostPipeline.Footage.Evidences;

/// <summary>What is known of a fact before something is cleared or deleted.</summary>
public enum EvidenceState
{
    /// <summary>Nobody has said: do not clear.</summary>
    Unknown = 0,

    /// <summary>The fact is there.</summary>
    Present = 1,

    /// <summary>The fact is not there.</summary>
    Absent = 2,
}
