namespace PostPipeline.Slates.Planning;

/// <summary>A generation of the pictures on a storage tier, from one stage's start until another's end.</summary>
/// <param name="Name">Its name; unique in its option.</param>
/// <param name="Storage">Name of the storage tier.</param>
/// <param name="Amount">Units of the tier, 0 or more.</param>
/// <param name="FromStage">Stage whose start begins it.</param>
/// <param name="UntilStage">Stage whose end ends it.</param>
/// <param name="LagSlots">Half-days it stays after that, 0 or more; what lies beyond the horizon is not looked at.</param>
public sealed record GenerationLife(string Name, string Storage, long Amount, string FromStage, string UntilStage, int LagSlots = 0);
