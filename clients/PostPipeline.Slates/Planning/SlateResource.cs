namespace PostPipeline.Slates.Planning;

/// <summary>Something that projects share.</summary>
/// <param name="Name">Its name; unique in a slate.</param>
/// <param name="Kind">What it is.</param>
/// <param name="Capacity">Units that the facility has, 0 or more.</param>
public sealed record SlateResource(string Name, SlateResourceKind Kind, long Capacity)
{
    /// <summary>
    /// Name of the calendar in which it works at all (working days of people, nights of a farm, maintenance of the whole);
    /// null where it always does. A stage that uses it waits in its closed half-days and goes on after them.
    /// </summary>
    public string? Calendar { get; init; }

    /// <summary>Units that are away for a while.</summary>
    public IReadOnlyList<SlateOutage> Outages { get; init; } = [];

    /// <summary>What can be rented on top; null where nothing can.</summary>
    public SlateRental? Rental { get; init; }

    /// <summary>The unit's name for people who read the plan.</summary>
    public string Unit { get; init; } = "units";
}
