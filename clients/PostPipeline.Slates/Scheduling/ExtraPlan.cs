namespace PostPipeline.Slates.Scheduling;

/// <summary>Units rented for one period.</summary>
/// <param name="Resource">Place of the resource in the problem.</param>
/// <param name="From">First slot of the period.</param>
/// <param name="Until">Slot after its last.</param>
/// <param name="Units">Units, 1 or more.</param>
public readonly record struct ExtraPlan(int Resource, int From, int Until, long Units);
