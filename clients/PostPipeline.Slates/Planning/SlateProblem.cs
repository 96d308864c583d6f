namespace PostPipeline.Slates.Planning;

/// <summary>Projects, and what they share, on a clock of half-days.</summary>
public sealed record SlateProblem
{
    /// <summary>The clock.</summary>
    public required SlateClock Clock { get; init; }

    /// <summary>What projects share.</summary>
    public required IReadOnlyList<SlateResource> Resources { get; init; }

    /// <summary>The projects.</summary>
    public required IReadOnlyList<SlateProject> Projects { get; init; }

    /// <summary>Calendars that resources and stages name.</summary>
    public IReadOnlyList<SlateCalendar> Calendars { get; init; } = [];

    /// <summary>The half-day that it is: what has not started cannot start earlier, holds that expire before it have expired.</summary>
    public int Now { get; init; }
}
