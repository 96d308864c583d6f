namespace PostPipeline.Farms;

/// <summary>What becomes of a running task when its node's window closes.</summary>
public enum ClosingRule
{
    /// <summary>It runs to its end; only no new task starts.</summary>
    Finish = 0,

    /// <summary>It stands still and goes on when the window opens again.</summary>
    Pause = 1,

    /// <summary>It is lost and waits for a node again.</summary>
    Abandon = 2,
}
