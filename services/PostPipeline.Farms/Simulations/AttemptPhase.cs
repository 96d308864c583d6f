namespace PostPipeline.Farms.Simulations;

/// <summary>How far an attempt that uses shared storage has come.</summary>
internal enum AttemptPhase
{
    /// <summary>Starting up; nothing moves yet.</summary>
    Overhead = 0,

    /// <summary>Moving the bytes that cannot move while it computes.</summary>
    MoveFirst = 1,

    /// <summary>Computing, the rest of the bytes moving meanwhile; over when both are.</summary>
    Work = 2,
}
