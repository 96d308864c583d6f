namespace PostPipeline.Slates.Planning;

/// <summary>Units to rent for one period.</summary>
/// <param name="Resource">Name of the resource.</param>
/// <param name="From">First half-day.</param>
/// <param name="Until">Half-day after the last.</param>
/// <param name="Units">Units, 1 or more.</param>
/// <param name="Price">For all units, in whole currency units.</param>
public sealed record RentalPlan(string Resource, int From, int Until, long Units, long Price);
