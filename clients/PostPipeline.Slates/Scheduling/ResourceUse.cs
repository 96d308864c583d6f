namespace PostPipeline.Slates.Scheduling;

/// <summary>How much of a resource is held.</summary>
/// <param name="Resource">Place of the resource in the problem.</param>
/// <param name="Amount">Units, 0 or more.</param>
public readonly record struct ResourceUse(int Resource, long Amount);
