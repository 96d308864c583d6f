namespace PostPipeline.Slates.Planning;

/// <summary>A stage of the same option whose end is waited for.</summary>
/// <param name="Stage">Name of that stage.</param>
/// <param name="LagSlots">Half-days after its end; below 0 where the wait is shorter, because material streams.</param>
public sealed record StageWait(string Stage, int LagSlots = 0);
