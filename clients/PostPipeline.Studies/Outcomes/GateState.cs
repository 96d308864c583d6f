namespace PostPipeline.Studies.Outcomes;

/// <summary>Whether a condition is met.</summary>
public enum GateState
{
    /// <summary>It is met.</summary>
    Passes = 0,

    /// <summary>Nobody has shown that it is met; a pipeline with such a gate is not proven.</summary>
    Unknown = 1,

    /// <summary>It is not met.</summary>
    Fails = 2,
}
