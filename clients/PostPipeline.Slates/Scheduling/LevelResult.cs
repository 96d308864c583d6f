namespace PostPipeline.Slates.Scheduling;

/// <summary>How far one level was brought.</summary>
/// <param name="Level">The level.</param>
/// <param name="Value">The value of the plan.</param>
/// <param name="Bound">No plan that keeps the earlier levels can have less.</param>
public sealed record LevelResult(ScheduleLevel Level, long Value, long Bound)
{
    /// <summary>Whether the value is the smallest there is.</summary>
    public bool IsProven => Value <= Bound;

    /// <summary>Value minus bound.</summary>
    public long Gap => Math.Max(0, Value - Bound);
}
