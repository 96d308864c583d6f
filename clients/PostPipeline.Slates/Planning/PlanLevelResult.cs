namespace PostPipeline.Slates.Planning;

/// <summary>How far one level was brought.</summary>
/// <param name="Level">The level.</param>
/// <param name="Value">The value of the plan.</param>
/// <param name="Bound">No plan that keeps the earlier levels as they are can have less.</param>
public sealed record PlanLevelResult(PlanLevel Level, long Value, long Bound)
{
    /// <summary>Whether the value is the smallest there is.</summary>
    public bool IsProven => Value <= Bound;

    /// <summary>Value minus bound, in the level's own unit.</summary>
    public long Gap => Math.Max(0, Value - Bound);
}
